#pragma once

#include "opencv.hpp"

namespace frisket {

/// Takes the shadow or glow off what casts it. A shadow rises from the ground by small steps, ink by one or
/// two large ones: so pixels are given back to the ground as long as the steps from it are small. That is
/// done only where several pixels in a row are soft and what is left is flat, as rendered ink is; pictures
/// with soft edges keep theirs.
///
/// `mask` (255: not ground) and `rgb` are of the same size; pixels given back become 0. Returns a mask of
/// what was left of those things, which is ink whatever its shadow looked like.
cv::Mat1b take_off_soft_rims(const cv::Mat& rgb, cv::Mat1b& mask);

}  // namespace frisket
