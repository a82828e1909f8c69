#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <vector>

#include "page/zones/label_map.hpp"

namespace frisket {

/// When two neighbouring pixels belong to one zone. Steps are the largest difference of a channel, 0 to 255.
struct ZoneRule {
  int step = 0;       ///< joined where they differ by this or less
  int ramp_step = 0;  ///< or by this, where the colour changes as fast just before and just after
  /// Neither, but only of one colour, where the colour turns by more than this from one side of both to the
  /// other: along a border that leans a little against the pixels its mixed colours change as slowly as a
  /// ramp, from one field's to the other's. 0: borders are not asked about.
  int border_step = 0;
};

/// A 4-connected zone of one colour, or of colour that changes smoothly.
struct Zone {
  std::int64_t area = 0;   ///< pixels
  cv::Rect box;            ///< pixels
  cv::Vec3f colour;        ///< mean R, G, B
  int canvas_contact = 0;  ///< its pixels that lie on the edge of what was labelled
  int border = 0;          ///< sides of its pixels where another zone begins
  int sharp_border = 0;    ///< those where the colour turns sharply; both are 0 where they were not asked for
};

/// Zone of every pixel; -1 for those of zones that were not kept. Numbers are in raster order of the zones'
/// first pixels, from 0.
struct ZoneMap {
  LabelMap label;
  std::vector<Zone> zones;
  std::vector<Zone> noted{};  ///< in the same order, those that KeptZones::is_noted says, kept or not
};

/// Which zones are of interest.
struct KeptZones {
  std::function<bool(const Zone&)> is_kept;  ///< asked once a zone has ended
  int least_pixels = 1;       ///< of what is kept or noted: smaller zones need not be asked about
  bool with_borders = false;  ///< measure Zone::border and Zone::sharp_border
  std::function<bool(const Zone&)> is_noted{};  ///< which to know of, wherever their pixels are
  int latest_turn = 0;  ///< pixels outside of the border that the colour of a sharp one may begin to turn
};

/// Labels `area` of `rgb` (CV_8UC3); positions count from its corner. One pass over the rows that forgets
/// zones as soon as they have ended and are not kept, so that a photograph, where nearly every pixel is a
/// zone, needs no more memory than a flat page: the equivalence tables of Rosenfeld and Pfaltz, Sequential
/// operations in digital picture processing, J. ACM 13(4), 1966, on runs, their numbers used again. Joining
/// by local steps is the quasi-flat zones of Soille, Constrained connectivity, IEEE TPAMI 30(7), 2008.
ZoneMap label_zones(const cv::Mat& rgb, const cv::Rect& area, ZoneRule rule, const KeptZones& kept);
/// The same in bands of rows: for pages whose rows are there one after the other. `rgb` need not hold before
/// it is said to; it must outlive the object.
class ZoneBands {
 public:
  ZoneBands(const cv::Mat& rgb, const cv::Rect& area, ZoneRule rule, KeptZones kept);
  ~ZoneBands();
  ZoneBands(ZoneBands&&) noexcept;

  /// Labels the next band if the first `rows` rows of the area are enough for it; false where they are not,
  /// or where no band is left. May be called by several threads at a time.
  bool label_next(int rows);
  /// Labels what is left, on all cores. Nobody else may be at it any more.
  ZoneMap finish();

 private:
  struct Work;
  std::unique_ptr<Work> work_;
};

/// All zones of all of `rgb`.
ZoneMap label_zones(const cv::Mat& rgb, ZoneRule rule);

/// Largest channel difference of two pixels, 0 to 255.
inline int colour_step(const cv::Vec3b& a, const cv::Vec3b& b) {
  return std::max({std::abs(a[0] - b[0]), std::abs(a[1] - b[1]), std::abs(a[2] - b[2])});
}
inline float colour_step(const cv::Vec3f& a, const cv::Vec3f& b) {
  return std::max({std::abs(a[0] - b[0]), std::abs(a[1] - b[1]), std::abs(a[2] - b[2])});
}

}  // namespace frisket
