#pragma once

#include <cstdint>
#include <vector>

#include "opencv.hpp"

namespace frisket {

/// A picture (CV_8UC3 in R G B order, at least one pixel) as a PNG file (W3C, Portable Network Graphics
/// Specification, second edition; deflate by libdeflate). The same bytes for the same picture.
std::vector<std::uint8_t> png_of(const cv::Mat& rgb);

}  // namespace frisket
