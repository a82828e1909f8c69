#include <cmath>

#include "frisket/report.hpp"
#include "report/json_values.hpp"
#include "report/plan.hpp"

namespace frisket {
namespace {

Json size_json(const Size& size) { return Json::array({json_mm(size.width), json_mm(size.height)}); }

Json panel_json(const Job& job, const SideLayout& side, const Panel& panel) {
  return {{"name", panel.name},
          {"x_mm", json_mm(panel.area.x)},
          {"y_mm", json_mm(panel.area.y)},
          {"width_mm", json_mm(panel.area.width)},
          {"height_mm", json_mm(panel.area.height)},
          {"live_mm", json_mm(live_area(job, side, panel))}};
}

Json positions_json(const std::vector<Length>& positions) {
  Json json = Json::array();
  for (const Length position : positions) json.push_back(json_mm(position));
  return json;
}

/// By number of the fold: vertical folds first, then horizontal ones.
Json clear_json(const Job& job, const SideLayout& side) {
  std::vector<Length> clear;
  for (std::size_t fold = 1; fold <= side.folds.size() + side.folds_y.size(); ++fold)
    clear.push_back(clear_of_fold(job, side, static_cast<int>(fold)));
  return positions_json(clear);
}

Json side_json(const Job& job, const SideLayout& side) {
  Json panels = Json::array();
  for (const Panel& panel : side.panels) panels.push_back(panel_json(job, side, panel));
  return {{"panels", panels},
          {"folds_mm", positions_json(side.folds)},
          {"folds_y_mm", positions_json(side.folds_y)},
          {"clear_of_folds_mm", clear_json(job, side)}};
}

}  // namespace

PixelSize canvas_pixels(const Job& job, double dpi) {
  const Rect canvas = grown({{}, {}, job.trim.width, job.trim.height}, job.bleed);
  return {static_cast<int>(std::lround(canvas.width.pixels(dpi))),
          static_cast<int>(std::lround(canvas.height.pixels(dpi)))};
}

std::string plan_json(const Job& job, double dpi) {
  const PixelSize pixels = canvas_pixels(job, dpi);
  return json_document(
      {{"frisket_plan", 1},
       {"flat_mm", size_json(job.trim)},
       {"finished_mm", size_json(job.finished)},
       {"spine_mm", json_mm(job.spine)},
       {"bleed_mm", json_mm(job.bleed)},
       {"safe_mm", json_mm(job.safe)},
       {"sides", {{"inside", side_json(job, job.inside)}, {"outside", side_json(job, job.outside)}}},
       {"creep_mm", positions_json(job.creep)},
       {"pixels", {{"dpi", json_ppi(dpi)}, {"width", pixels.width}, {"height", pixels.height}}}});
}

}  // namespace frisket
