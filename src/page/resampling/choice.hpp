#pragma once

#include "page/resampling/guesses.hpp"

namespace frisket {

/// The likeliest pair of factors, and how likely it is.
struct Choice {
  double x = 1, y = 1;     ///< page pixels to a picture pixel
  double probability = 0;  ///< that both are right within 3 %
  double none = 1;         ///< probability that it was not enlarged, or by something nobody guessed
  Kernel kernel = Kernel::bilinear;
};

/// Weighs all pairs of guesses, one for each axis, and 'none' against each other. Axes that differ are less
/// likely than equal ones, and by more than half they never do.
Choice choose(const std::vector<Guess>& guesses);

}  // namespace frisket
