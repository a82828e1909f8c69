#pragma once

#include "page/grounds.hpp"

namespace frisket {

/// Takes the ringing of a lossy page off the ink that it surrounds: only what has nearly half the contrast of
/// the strongest ink nearby is kept. That is done for things of one colour, as type is; pictures and drawings
/// of many colours keep all they have.
///
/// `mask` (255: not ground) and `rgb` are of the same size; pixels given back to the ground become 0. Returns
/// a mask of what was left of those things.
cv::Mat1b take_off_ringing(const cv::Mat& rgb, cv::Mat1b& mask, const Scale& scale);

}  // namespace frisket
