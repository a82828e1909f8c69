#pragma once

#include <optional>
#include <string>

#include "frisket/inspect.hpp"

namespace frisket {

/// How the distance of a finding lies on the page: the axis, the line measured from and the place at the
/// measured distance from it, in job space.
struct Measure {
  bool along_x;  ///< measured along x: a left or right edge, a vertical fold
  Length reference, ink;
};

/// Empty where the finding has no distance, or is about no edge and no fold.
std::optional<Measure> measure_of(const Finding& finding, const Report& report);

/// The distance without its sign, or the resolution, with its unit; "at the trim" or "on the fold" where the
/// distance comes to nothing in that unit; empty where nothing was measured.
std::string measured_text(const Finding& finding, Unit unit);

}  // namespace frisket
