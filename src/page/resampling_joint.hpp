#pragma once

#include <optional>

#include "page/resampling_axis.hpp"

namespace frisket {

/// A factor that both axes were enlarged by, found from evidence too faint on either alone.
struct JointFinding {
  double factor = 1;
  Kernel kernel = Kernel::bilinear;
  bool ambiguous = false;  ///< its alias fits as well: a grid of f and one of 1 - f cycles a pixel look alike
};

/// Pictures that are soft leave little but rounding, whatever factor is tried: the dip at the true one is
/// shallow, but it is there on both axes, and at most factors it is on neither. Of the factors that either
/// axis suggests, the one with the deepest dips together is taken; empty where none is deep enough, where
/// more than rounding is left over, or where an unscaled JPEG grid explains it. Neither axis may have
/// repeated pixels.
std::optional<JointFinding> find_jointly(const AxisEvidence& x, const AxisEvidence& y);

}  // namespace frisket
