#pragma once

#include <optional>
#include <vector>

#include "frisket/page.hpp"

namespace frisket {

/// A line of a job as a guide would show it: where it lies on the page and how far it goes, px.
struct JobLine {
  bool vertical;  ///< lies at an x
  double at, from, to;
  std::optional<Edge> edge{};  ///< the trim edge that it is
  std::optional<int> fold{};   ///< or the fold, from 1; neither: of the bleed, or of a panel's safe zone
};

/// All lines of a side of a job: trim, folds, bleed, and the area of each panel that live matter may fill.
std::vector<JobLine> job_lines(const Placement& placement, const Job& job, const SideLayout& layout);

}  // namespace frisket
