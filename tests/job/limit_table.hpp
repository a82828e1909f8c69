#pragma once

#include <array>

#include "frisket/limits.hpp"

namespace frisket {

/// Limits like those the checks declare.
inline constexpr std::array test_limits{
    LimitSpec{"bleed", LimitKind::edges, 3, 0, 100, "how far colour goes on beyond the trim"},
    LimitSpec{"safe", LimitKind::edges, 3, 0, 500, "clear distance inside the trim"},
    LimitSpec{"fold_safe", LimitKind::length, 1.5, 0, 50, "clear distance each side of a fold"},
    LimitSpec{"cut_tolerance", LimitKind::length, 1.5, 0, 10, "how far the cut may wander"},
    LimitSpec{"fold_tolerance", LimitKind::length, 0.5, 0, 10, "how far the fold may wander"},
    LimitSpec{"resolution.wanted", LimitKind::ppi, 300, 1, 10000, "resolution of pictures"},
    LimitSpec{"resolution.least", LimitKind::ppi, 225, 1, 10000, "lowest resolution of pictures"},
    LimitSpec{"resolution.line_art", LimitKind::ppi, 600, 10, 10000, "resolution of line art"}};

}  // namespace frisket
