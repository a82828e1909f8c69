#pragma once

#include <optional>
#include <string>

#include "opencv.hpp"

namespace frisket {

/// What the pixels of a picture tell about how it was enlarged before or while the page was rendered.
struct Resampling {
  std::optional<double> factor_x,
      factor_y;                  ///< page pixels to a picture pixel, above 1, where it could be told
  bool as_fine_as_page = false;  ///< no enlargement, and detail that only the page's own pixels can hold
  std::string why;               ///< how it was told, or why it could not be
  double confidence = 0;         ///< 0 to 1: the share of such answers that are right within 5 %
  int work = 0;                  ///< what it took, counted, not clocked: about a millisecond of one core each
};

/// What is known of the page as a whole.
struct PageHistory {
  bool was_jpeg =
      false;  ///< its own rounding hides what enlarging leaves: never `as_fine_as_page` (see was_jpeg)
};

/// Measures one picture by its pixels alone: `rgb`, CV_8UC3 in R G B order, the picture's box cut from the
/// page. Below 128 px on a side nothing is told. Of large pictures the busiest square of 512 px is looked
/// at. Factors from 1.04 to 9 are found; larger ones only where pixels were repeated.
Resampling estimate_resampling(const cv::Mat& rgb, const PageHistory& history = {});

}  // namespace frisket
