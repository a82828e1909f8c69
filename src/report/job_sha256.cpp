#include "frisket/report.hpp"
#include "report/json_values.hpp"

namespace frisket {
namespace {

/// In full: two jobs that differ by a hair are two jobs.
Json exact(Length length) { return length.mm(); }
Json exact(double value) { return value; }
Json exact(const Size& size) { return Json::array({exact(size.width), exact(size.height)}); }
Json exact(const Edges& edges) {
  return Json::array({exact(edges.top), exact(edges.right), exact(edges.bottom), exact(edges.left)});
}
Json exact(const Rect& rect) {
  return Json::array({exact(rect.x), exact(rect.y), exact(rect.width), exact(rect.height)});
}

Json exact(const Panel& panel) { return Json::array({panel.name, exact(panel.area)}); }

template <class Value>
Json exact(const std::vector<Value>& values) {
  Json json = Json::array();
  for (const Value& value : values) json.push_back(exact(value));
  return json;
}

template <class Value>
Json exact(const std::optional<Value>& value) {
  return value ? exact(*value) : Json(nullptr);
}

Json exact(const SideLayout& layout) {
  const auto& [folds, folds_y, panels, own_clear] = layout;
  Json clear = Json::array();
  for (const auto& [fold, distance] : own_clear) clear.push_back(Json::array({fold, exact(distance)}));
  return Json::array({exact(folds), exact(folds_y), exact(panels), clear});
}

Json exact(const AcceptedFinding& finding) {
  const auto& [page, number, check, kind, box, measured, measured_ppi, why, who] = finding;
  return Json::array({page, number, check, kind, exact(box), exact(measured), exact(measured_ppi), why, who});
}

Json exact(const Limits& limits) {
  Json json = Json::object();
  for (const auto& [key, limit] : limits.all())
    json[key] = Json::array({std::visit([](const auto& value) { return exact(value); }, limit.value),
                             limit_source_name(limit.from)});
  return json;
}

/// All members are named, so that a new one cannot be forgotten here: it does not compile.
Json exact(const Job& job) {
  const auto& [name, unit, trim, finished, bleed, safe, folded, spine, inside, outside, dpi, marks, limits,
               pages, accepted, creep] = job;
  Json passed = Json::array();
  for (const AcceptedFinding& finding : accepted) passed.push_back(exact(finding));
  static_cast<void>(pages);  // which other pages the job has bears on none of them
  return Json::array({name, unit_name(unit), exact(trim), exact(finished), exact(bleed), exact(safe), folded,
                      exact(spine), exact(inside), exact(outside), exact(dpi), exact(limits), exact(creep),
                      marks ? Json(*marks) : Json(nullptr), passed});
}

}  // namespace

std::string job_sha256(const Job& job, const PageRequest& request) {
  const auto& [file, number, side, dpi_flag] = request;
  const Json json =
      Json::array({exact(job), file, number, side ? Json(side_name(*side)) : Json(nullptr), exact(dpi_flag)});
  return text_sha256(json.dump(-1, ' ', false, Json::error_handler_t::replace));
}

}  // namespace frisket
