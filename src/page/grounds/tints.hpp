#pragma once

#include "opencv.hpp"

namespace frisket {

/// True where a region is one drawn pattern of small dots, lines or tiles: it is like itself again some
/// pixels on, and less so in between. Tiles of 4 to 24 px are looked for, in the middle of the region.
/// `rgb`: CV_8UC3, at least 114 px a side; of smaller ones nothing is said.
bool is_tint(const cv::Mat& rgb);

}  // namespace frisket
