#pragma once

#include "opencv.hpp"
#include "page/zones/scale.hpp"

namespace frisket {

/// Takes the shadow or glow off what casts it. A shadow rises from the ground by small steps, ink by one or
/// two large ones: so pixels are given back to the ground as long as the steps from it are small. That is
/// done only where several pixels in a row are soft and what is left is flat, as rendered ink is; pictures
/// with soft edges keep theirs.
///
/// `thing` (255: the thing, 0: ground) and `rgb` are of the same size. Returns whether it cast a shadow; then
/// `thing` is what is left of it, which is ink whatever its shadow looked like.
bool take_off_soft_rim(const cv::Mat& rgb, cv::Mat1b& thing, const Scale& scale);

}  // namespace frisket
