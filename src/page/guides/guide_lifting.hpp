#pragma once

#include <optional>
#include <vector>

#include "frisket/page.hpp"
#include "page/grounds/grounds.hpp"
#include "page/guides/job_lines.hpp"

namespace frisket {

/// The page as it is below a whole guide that was left in, so that the guide is told once, by its lines, and
/// neither its dots and dashes are taken for letters nor the pieces it cuts colours into for pieces. None
/// where no whole guide was left in: that is said by lines on at least two trim edges. Whoever left those in
/// left in bleed, safe zone and folds with them, faint as they may be.
///
/// Across each of the job's lines, as wide as the widest line found, every pixel becomes what lies beside the
/// line on its own side.
std::optional<Raster> lift_guide(const Raster& raster, const Placement& placement,
                                 const std::vector<Guide>& guides, std::vector<JobLine> lines);

}  // namespace frisket
