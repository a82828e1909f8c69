#pragma once

#include <vector>

#include "job/folds.hpp"

namespace frisket {

/// Sets of allowances, and what widths are rounded to: 1/32 in or 0.5 mm.
enum class Measure { imperial, metric };
/// Inches and points go with the imperial set.
constexpr Measure measure_of(Unit unit) {
  return unit == Unit::inch || unit == Unit::point ? Measure::imperial : Measure::metric;
}

/// The widths of `request`'s panels along one axis, first to last as seen on the inside, by the rules of
/// the trade; lists in `request` are not looked at. `length` is the trim along that axis; the widths add up
/// to it but for the rounding of doubles. `request.kind` is not none or list; for z and roll `count` >= 3.
/// Throws Error, without file and key, where the sheet is too short for so many panels.
std::vector<Length> compensated_panels(const FoldRequest& request, Length length, Measure measure);

}  // namespace frisket
