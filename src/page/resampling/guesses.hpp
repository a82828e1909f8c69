#pragma once

#include <vector>

#include "page/resampling/axis.hpp"

namespace frisket {

/// What one axis says of a factor.
struct AxisSays {
  double peak = 0;  ///< height of its spectrum at one picture pixel
  Fit fit;
  bool named = false;     ///< the picture's JPEG grid has a pitch of 8, 4, 2 or 1 picture pixels
  bool is_pitch = false;  ///< clearly 8 of them
  bool unscaled_tooth =
      false;                 ///< a picture that was JPEG at the page's own resolution has this peak as well
  bool other_tooth = false;  ///< its peak lies on a tooth of the grid of another factor
  double fine_detail = 0;    ///< of the axis, as AxisEvidence has it
};

/// A factor that a peak or a grid of either axis suggests, tried on both.
struct Guess {
  double factor = 1;
  AxisSays x, y;
};

/// All guesses of a picture, in ascending order of their factors, at least 0.3 % apart. Neither axis may have
/// repeated pixels.
std::vector<Guess> guesses_of(const AxisEvidence& x, const AxisEvidence& y);

}  // namespace frisket
