#pragma once

#include "opencv.hpp"

namespace frisket {

/// A page (CV_8UC3 in R G B order) in grey (CV_8UC1, ITU-R BT.601 as OpenCV has it), shrunk to `size`, which
/// is no larger than the page: each pixel is the mean of the area of the page that it covers, parts of pixels
/// counted as parts. In one pass over the page, without a copy of it.
cv::Mat shrunk_grey(const cv::Mat& rgb, cv::Size size);

}  // namespace frisket
