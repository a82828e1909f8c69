#pragma once

// One declaration a check; each is written, with its limits, in a file of its own.
#include "frisket/check.hpp"

namespace frisket {

/// How far the cut may lie from the trim: declared for the bleed check, and read by the safe-zone check too,
/// since what ends so close to the trim is a matter of bleed.
inline constexpr LimitSpec cut_tolerance{
    "cut_tolerance", LimitKind::length, 1.5, 0.0, 20.0, "how far the cut may lie from the trim"};

extern const Check page_size_check;
extern const Check safe_zone_check;
extern const Check bleed_check;
extern const Check folds_check;
extern const Check resolution_check;

}  // namespace frisket
