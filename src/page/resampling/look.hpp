#pragma once

#include "page/resampling/axis.hpp"

namespace frisket {

/// The part of a picture that is looked at, and what its axes show before factors are tried.
struct PictureLook {
  cv::Mat1f luma;     ///< 0 to 255: the busiest square of 512 px, or what fits of it
  AxisEvidence x, y;  ///< y is that of `luma` turned over
};

/// `rgb`: CV_8UC3, at least 64 px a side.
PictureLook look_at_picture(const cv::Mat& rgb);

}  // namespace frisket
