#pragma once

#include <cstdint>
#include <vector>

#include "opencv.hpp"

namespace frisket {

/// When two neighbouring pixels belong to one zone. Steps are the largest difference of a channel, 0 to 255.
struct ZoneRule {
  int step = 0;       ///< joined where they differ by this or less
  int ramp_step = 0;  ///< or by this, where the colour changes as fast just before and just after
};

/// A 4-connected zone of one colour, or of colour that changes smoothly.
struct Zone {
  std::int64_t area = 0;   ///< pixels
  cv::Rect box;            ///< pixels
  cv::Vec3f colour;        ///< mean R, G, B
  int canvas_contact = 0;  ///< its pixels that lie on the canvas edge
};

/// Zone of every pixel. Numbers are in raster order of the zones' first pixels, from 0.
struct ZoneMap {
  cv::Mat1i label;
  std::vector<Zone> zones;
};

/// Labels all of `rgb` (CV_8UC3). Union-find over rows, as in the two-pass labelling of Rosenfeld and Pfaltz,
/// Sequential operations in digital picture processing, J. ACM 13(4), 1966; joining by local steps is the
/// quasi-flat zones of Soille, Constrained connectivity, IEEE TPAMI 30(7), 2008.
ZoneMap label_zones(const cv::Mat& rgb, ZoneRule rule);

/// Largest channel difference of two pixels, 0 to 255.
inline int colour_step(const cv::Vec3b& a, const cv::Vec3b& b) {
  return std::max({std::abs(a[0] - b[0]), std::abs(a[1] - b[1]), std::abs(a[2] - b[2])});
}
inline float colour_step(const cv::Vec3f& a, const cv::Vec3f& b) {
  return std::max({std::abs(a[0] - b[0]), std::abs(a[1] - b[1]), std::abs(a[2] - b[2])});
}

}  // namespace frisket
