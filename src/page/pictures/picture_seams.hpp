#pragma once

#include <vector>

#include "opencv.hpp"

namespace frisket {

/// The pictures in `box`, one or several: pictures that touch, or have a hairline between them, are told
/// apart by the line where they meet, from side to side of the box; each part again. `grey`: the page;
/// `block`: side of a texture block; no part is narrower than `least_side`; all in pixels.
std::vector<cv::Rect> parted_at_seams(const cv::Mat1b& grey, const cv::Rect& box, int block, int least_side);

}  // namespace frisket
