#pragma once

#include "page/zones/zones.hpp"

namespace frisket {

/// Does the colour turn within two pixels, going from `at` along `way`, one of the four neighbours' ways?
/// Ink drawn on a picture does nearly all round; a picture's own shapes are softer.
inline bool turns_sharply(const cv::Mat& rgb, cv::Point at, cv::Point way) {
  constexpr int sharp_contrast = 24;          // levels, two pixels outside the border
  constexpr double sharp_completeness = 0.7;  // of the largest difference two to four pixels outside
  const cv::Rect canvas({}, rgb.size());
  if (!canvas.contains(at + 2 * way)) return false;
  const cv::Vec3b here = rgb.at<cv::Vec3b>(at);
  const int near = colour_step(here, rgb.at<cv::Vec3b>(at + 2 * way));
  if (near < sharp_contrast) return false;
  int largest = near;
  for (int step = 3; step <= 4; ++step) {
    const cv::Point out = at + step * way;
    if (!canvas.contains(out)) break;
    largest = std::max(largest, colour_step(here, rgb.at<cv::Vec3b>(out)));
  }
  return near >= sharp_completeness * largest;
}

}  // namespace frisket
