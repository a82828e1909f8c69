#include "page/edge_runs.hpp"

#include <cmath>

#include "page/maps.hpp"

namespace frisket {
namespace {

constexpr double least_run_mm = 4.0;  // faults of 5 mm are to be found; their ends may be ragged
constexpr double confined_mm = 10.0;
constexpr double thin_line_mm = 1.0;     // of frames and rules; no field of colour is so thin
constexpr float same_ground = 4.0F;      // levels
constexpr double confined_share = 0.05;  // of its area may lie farther in

/// Distance of the trim edge from the canvas edge, px.
double trim_depth(const Page& page, Edge edge) {
  const PixelRect& trim = page.placement.trim_px;
  switch (edge) {
    case Edge::top:
      return trim.y;
    case Edge::left:
      return trim.x;
    case Edge::bottom:
      return page.raster->height - trim.bottom();
    case Edge::right:
      return page.raster->width - trim.right();
  }
  return 0;
}

int outermost_element(const Page& page, cv::Point at) {
  int element = page.maps->element(at);
  while (element >= 0 && page.elements[static_cast<std::size_t>(element)].parent >= 0)
    element = page.elements[static_cast<std::size_t>(element)].parent;
  return element;
}

/// The element most of the run's inner side belongs to, looked at a few places.
int element_inside(const Page& page, const Strip& strip, const BoundaryRun& run) {
  const int depth = std::min(strip.depth - 1, static_cast<int>(std::ceil(run.most)) + 1);
  for (const double share : {0.5, 0.25, 0.75}) {
    const int t = run.first + static_cast<int>(share * run.length());
    if (const int element = outermost_element(page, strip.at(t, depth)); element >= 0) return element;
  }
  return -1;
}

bool is_confined(const Page& page, int surface, Edge edge) {
  const SurfaceMap& map = page.maps->surfaces;
  const int far = static_cast<int>(trim_depth(page, edge) + page.maps->scale.px(confined_mm));
  const cv::Size canvas = map.label.size();
  const Surface& of = map.of(surface);
  // A picture that goes right across cuts a strip off the page's ground.
  const auto like = [&](int other) {
    return other == surface || (other != 0 && of.kind == Surface::Kind::field && map.of(other).bleeds &&
                                map.of(other).kind == Surface::Kind::field &&
                                colour_step(map.of(other).colour, of.colour) <= same_ground);
  };
  // All round the page counts as confined too: what lies deep inside on each edge is what matters.
  cv::Rect inner({far, far}, canvas - cv::Size(2 * far, 2 * far));
  std::vector<bool> counts(map.surfaces.size() + 1);
  for (std::size_t i = 1; i < counts.size(); ++i) counts[i] = like(static_cast<int>(i));
  std::int64_t deep = 0;
  for (int y = inner.y; y < inner.br().y; y += 2)
    for (const Run& run : map.label.row(y)) {
      const int from = std::max(run.begin, inner.x) - inner.x, to = std::min(run.end, inner.br().x) - inner.x;
      if (to > from && counts[static_cast<std::size_t>(run.label)]) deep += (to + 1) / 2 - (from + 1) / 2;
    }
  return static_cast<double>(4 * deep) < confined_share * static_cast<double>(of.area);
}

EdgeRun in_job_space(const Page& page, Edge edge, const Strip& strip, const BoundaryRun& run) {
  const Placement& placement = page.placement;
  EdgeRun found;
  found.edge = edge;
  found.pixels = run;
  found.beyond = Length::from_mm((trim_depth(page, edge) - run.most) / placement.px_per_mm);
  found.from = is_vertical(edge) ? placement.y_of(run.first) : placement.x_of(run.first);
  found.to = is_vertical(edge) ? placement.y_of(run.last) : placement.x_of(run.last);
  found.element = element_inside(page, strip, run);
  found.outer_confined = run.outer != BoundaryRun::bare_paper && is_confined(page, run.outer, edge);
  return found;
}

Length longest_strewn(const Page& page) {
  Length longest;
  for (const int member : page.strewn) {
    const Rect& box = page.elements[static_cast<std::size_t>(member)].box;
    longest = std::max({longest, box.width, box.height});
  }
  return longest;
}

}  // namespace

bool is_line_inside(const Page& page, const EdgeRun& run) {
  if (run.element < 0 || run.beyond >= Length()) return false;
  const Surface& line = page.maps->surfaces.of(run.pixels.inner);
  const double thin = page.maps->scale.px(thin_line_mm);
  return std::min(line.box.width, line.box.height) <= thin ||
         static_cast<double>(line.area) <= thin * 2.0 * (line.box.width + line.box.height);
}

const Surface& outer_surface(const Page& page, const EdgeRun& run) {
  static const Surface bare_paper{Surface::Kind::field, 0, {}, {255, 255, 255}, 0, true, false};
  return run.pixels.outer == BoundaryRun::bare_paper ? bare_paper : page.maps->surfaces.of(run.pixels.outer);
}

std::vector<EdgeRun> edge_runs(const Page& page, Length inside) {
  const PageMaps& maps = *page.maps;
  const cv::Mat rgb = view_of(*page.raster);
  const int least_length = maps.scale.whole_px(least_run_mm);
  std::vector<EdgeRun> runs;
  for (const Edge edge : all_edges) {
    const double depth = trim_depth(page, edge) + maps.scale.px(inside.mm());
    const Strip strip = strip_along(edge, rgb.size(), static_cast<int>(depth) + 4);
    if (page.placement.how == Placing::by_trim)
      for (BoundaryRun run : surfaces_at_canvas_edge(maps.surfaces, strip, least_length, maps.scale)) {
        run.position = run.least = run.most = trim_depth(page, edge);
        runs.push_back(in_job_space(page, edge, strip, run));
      }
    for (const BoundaryRun& run :
         follow_boundaries(rgb, maps.surfaces, strip, std::nullopt, least_length, maps.scale))
      runs.push_back(in_job_space(page, edge, strip, run));
  }
  // A chip of what is strewn over the page may lie on the canvas edge: the ground does not end there.
  std::erase_if(runs,
                [chip = longest_strewn(page)](const EdgeRun& run) { return run.to - run.from <= chip; });
  return runs;
}

}  // namespace frisket
