#include "page/guides/job_lines.hpp"

namespace frisket {
namespace {

/// The sides of a box in the order of Edge: top, right, bottom, left.
std::vector<JobLine> sides_of(const PixelRect& box) {
  return {{false, box.y, box.x, box.right()},
          {true, box.right(), box.y, box.bottom()},
          {false, box.bottom(), box.x, box.right()},
          {true, box.x, box.y, box.bottom()}};
}

}  // namespace

std::vector<JobLine> job_lines(const Placement& placement, const Job& job, const SideLayout& layout) {
  const PixelRect& trim = placement.trim_px;
  std::vector<JobLine> lines = sides_of(trim);
  std::size_t side = 0;
  for (const Edge edge : {Edge::top, Edge::right, Edge::bottom, Edge::left}) lines[side++].edge = edge;
  int fold = 0;
  for (const Length at : layout.folds)
    lines.push_back({true, placement.px_of_x(at), trim.y, trim.bottom(), std::nullopt, ++fold});
  for (const Length at : layout.folds_y)
    lines.push_back({false, placement.px_of_y(at), trim.x, trim.right(), std::nullopt, ++fold});

  std::vector<Rect> boxes{grown({{}, {}, job.trim.width, job.trim.height}, job.bleed)};
  for (const Panel& panel : layout.panels)
    if (const Rect live = live_area(job, layout, panel); !live.empty()) boxes.push_back(live);
  for (const Rect& box : boxes)
    for (const JobLine& line : sides_of(placement.pixels_of(box))) lines.push_back(line);
  return lines;
}

}  // namespace frisket
