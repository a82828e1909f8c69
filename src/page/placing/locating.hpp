#pragma once

#include <optional>

#include "frisket/page.hpp"

namespace frisket {

/// Where a page's trim lies, and by what that was told.
struct Location {
  Placement placement;
  std::optional<TrimMarks> marks;  ///< where they were looked for and found, whatever the trim was placed by
};

/// Finds the trim on a page at `dpi`: by the boxes of a PDF, else by printed marks, else by the size of the
/// canvas. Boxes and marks count where they have the size of the job within max(0.5 mm, 1 px). Marks are
/// looked for as the job says, else on a canvas that is not the job's size; marks of another size than the
/// job leave the page unplaced: what would be measured, and from where, is then anyone's guess.
Location locate(const Raster& canvas, double dpi, const Job& job);

/// How far a page turned by `skew` degrees is off at the far ends of a trim, px: below half a pixel it lies
/// straight.
bool is_crooked(const Placement& placement);

}  // namespace frisket
