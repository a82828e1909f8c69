#include <cmath>

#include "frisket/report.hpp"
#include "report/json_values.hpp"
#include "report/plan.hpp"

namespace frisket {
namespace {

Json size_json(const Size& size) { return Json::array({json_mm(size.width), json_mm(size.height)}); }

Json panel_json(const Panel& panel) {
  return {{"name", panel.name},
          {"x_mm", json_mm(panel.area.x)},
          {"y_mm", json_mm(panel.area.y)},
          {"width_mm", json_mm(panel.area.width)},
          {"height_mm", json_mm(panel.area.height)}};
}

Json positions_json(const std::vector<Length>& positions) {
  Json json = Json::array();
  for (const Length position : positions) json.push_back(json_mm(position));
  return json;
}

Json side_json(const SideLayout& side) {
  Json panels = Json::array();
  for (const Panel& panel : side.panels) panels.push_back(panel_json(panel));
  return {{"panels", panels},
          {"folds_mm", positions_json(side.folds)},
          {"folds_y_mm", positions_json(side.folds_y)}};
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
       {"sides", {{"inside", side_json(job.inside)}, {"outside", side_json(job.outside)}}},
       {"pixels", {{"dpi", json_ppi(dpi)}, {"width", pixels.width}, {"height", pixels.height}}}});
}

}  // namespace frisket
