#pragma once

#include "frisket/job.hpp"
#include "frisket/page.hpp"

namespace frisket {

/// Lays a canvas of `width` x `height` px at `dpi` under the job: by the bleeds where it matches trim +
/// bleed, trim = canvas where it matches the trim, centred where it is larger than both on each axis, and is
/// not exactly right at another usual resolution; each within max(0.5 mm, 1 px). Otherwise it fits nothing.
Placement place(int width, int height, double dpi, const Job& job);

/// How far a canvas may be off on an axis and still match: max(0.5 mm, 1 px).
Length placing_tolerance(double dpi);

}  // namespace frisket
