#pragma once

#include <optional>
#include <string>
#include <vector>

#include "page/resampling_guesses.hpp"

namespace frisket {

/// What speaks for one factor, on one axis or on both together.
struct Case {
  double factor = 1;
  double low_peak = 0, high_peak = 0;       ///< of the axes' spectrum peaks
  double residual = 0, least_residual = 0;  ///< of the axes' residuals, the larger and the smaller
  double dip = 1;                           ///< the shallower of the axes' dips
  double depth = 0;                         ///< twice the mean of the logarithms of the dips: negative
  bool named = false;                       ///< by the grids of all axes
  bool is_pitch = false, unscaled_tooth = false, other_tooth = false;  ///< of any axis
  Kernel kernel = Kernel::bilinear;
};

enum class Axes { x, y, both };

std::vector<Case> cases_on(const std::vector<Guess>& guesses, Axes axes);

/// A factor that all conditions hold for, or the reason why none is taken.
struct Choice {
  std::optional<Case> taken;
  std::string why_not;
  bool is_doubtful = false;  ///< there is evidence, but it does not decide
};

/// The factor with the deepest dip, unless another explains it:
///   - what was enlarged by s also fits s / 2, s / 3 and s / 4, but only s has the peak of its own grid;
///   - peaks of f and of 1 - f cycles a pixel look alike: the smaller factor of such a pair has the wider
///     space, in which smooth pictures leave even less than rounding, and tells nothing there.
/// Nothing is taken where less than `convincing` evidence stands against deeper, but implausible.
Choice choose(const std::vector<Case>& cases);

/// True where one axis alone speaks more clearly for a factor that has nothing to do with `factor`.
bool is_contradicted(const std::vector<Case>& cases_of_axis, double factor);

/// True where the axis is sure without the other.
bool is_strong(const Case& on_axis);

/// The larger or smaller factor whose peak is at the same place: 1 - f cycles a pixel.
double alias_of(double factor);

/// The case of `factor`; null where nobody guessed it.
const Case* find_case(const std::vector<Case>& cases, double factor);

/// True where nothing but rounding can have made the dip: peak, grid and residual agree with the factor.
bool is_plausible(const Case& on);

}  // namespace frisket
