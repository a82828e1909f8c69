#pragma once

#include "opencv.hpp"

namespace frisket {

/// A stretch of a line, nearly upright or nearly level: across = place + slope * along; pixels.
struct LineStretch {
  bool upright;
  double place, slope;
  double from, to;  ///< along

  /// The same, so far across.
  LineStretch beside(double by) const;
};

/// The pixel of `rgb` (CV_8UC3) at a place along and across lines; the nearest one where that lies outside.
cv::Vec3b pixel_along(const cv::Mat& rgb, bool upright, double along, double across);

/// The largest difference in a channel, levels.
double colour_step(const cv::Vec3d& a, const cv::Vec3d& b);

/// The darkest colour on a stretch: that of its ink, where a line covers a pixel whole.
cv::Vec3b darkest_colour(const cv::Mat& rgb, const LineStretch& line);

/// Share of a stretch, 0 to 1, on which a thin line is seen, at most `widest` px thick: darker than both its
/// sides or lighter than both. Drawn grounds are flat, and a faint line on them counts; in a picture it has
/// to stand out from the grain.
double line_share(const cv::Mat& rgb, const LineStretch& line, int widest);

/// Share of a stretch, 0 to 1, on which a thin line of the colour `ink` is seen, whole or mixed with the
/// ground by anti-aliasing. Where a side has that colour, none is.
double ink_share(const cv::Mat& rgb, const LineStretch& line, int widest, const cv::Vec3b& ink);

}  // namespace frisket
