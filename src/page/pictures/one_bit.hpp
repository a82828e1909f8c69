#pragma once

#include "opencv.hpp"

namespace frisket {

/// True where a page holds black and white and nothing between, though it has slants or curves: it was
/// rendered as line art, one bit a pixel, without anti-aliasing. A page of upright boxes alone, or without
/// any ink, is none. `rgb`: CV_8UC3.
bool is_one_bit(const cv::Mat& rgb);

}  // namespace frisket
