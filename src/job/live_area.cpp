// Where live matter may lie: the same distances that the safe-zone and the folds check hold a page to.
#include <algorithm>

#include "frisket/job.hpp"

namespace frisket {
namespace {

/// Panels are laid end to end by sums of doubles: a side this near to a fold lies on it.
constexpr Length hair = Length::from_mm(0.001);

/// A strip that takes no line of 6 pt type, the smallest that is set as a rule (common practice, no source).
constexpr Length least_live = Length::from_points(6);

/// The number of the fold at `position` of `folds`, counted on from `before`; 0 where there is none.
int fold_at(const std::vector<Length>& folds, Length position, std::size_t before) {
  const auto found = std::ranges::find_if(folds, [&](Length fold) { return abs(fold - position) <= hair; });
  return found == folds.end() ? 0 : static_cast<int>(before) + static_cast<int>(found - folds.begin()) + 1;
}

/// What a side of a panel is to keep free inside it.
Length margin(const Job& job, const SideLayout& side, const Rect& area, Edge edge) {
  const Length position = edge == Edge::left    ? area.left()
                          : edge == Edge::right ? area.right()
                          : edge == Edge::top   ? area.top()
                                                : area.bottom();
  const int fold = is_vertical(edge) ? fold_at(side.folds, position, 0)
                                     : fold_at(side.folds_y, position, side.folds.size());
  return fold > 0 ? clear_of_fold(job, side, fold) : job.safe.at(edge);
}

}  // namespace

Length clear_of_fold(const Job& job, const SideLayout& side, int fold) {
  if (const auto own = side.own_clear.find(fold); own != side.own_clear.end()) return own->second;
  const auto limit = job.limits.all().find("fold_safe");
  return limit == job.limits.all().end() ? Length() : std::get<Length>(limit->second.value);
}

Rect live_area(const Job& job, const SideLayout& side, const Panel& panel) {
  if (panel.name == turn_in_name) return {};
  Edges inwards;
  for (const Edge edge : all_edges) inwards.at(edge) = -margin(job, side, panel.area, edge);
  const Rect area = grown(panel.area, inwards);
  return std::min(area.width, area.height) < least_live ? Rect{} : area;
}

}  // namespace frisket
