#pragma once

#include <vector>

#include "page/grounds/grounds.hpp"
#include "page/zones/run_components.hpp"

namespace frisket {

/// Takes the ringing of a lossy page off the ink that it surrounds: only what has nearly half the contrast of
/// the strongest ink nearby is kept. That is done for things of one colour, as type is; pictures and drawings
/// of many colours keep all they have.
///
/// `things` are the connected parts of what is not ground, of the size of `rgb`. `left` is what remains of
/// those of one colour, which is ink; the others are what they were.
struct WithoutRinging {
  std::vector<bool> one_colour;  ///< by thing
  LabelMap left;                 ///< 1 where ink was left, 0 elsewhere
};
WithoutRinging take_off_ringing(const cv::Mat& rgb, const RunComponents& things, const Scale& scale);

}  // namespace frisket
