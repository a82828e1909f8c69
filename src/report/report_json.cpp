#include "frisket/report.hpp"
#include "report/json_values.hpp"

namespace frisket {
namespace {

Json page_json(const Report& report) {
  const std::optional<Side>& side = report.page.side;
  return {{"file", report.page.file},
          {"number", report.page.number},
          {"side", side ? json_text(side_name(*side)) : Json(nullptr)},
          {"width_px", report.width_px},
          {"height_px", report.height_px},
          {"dpi", json_ppi(report.dpi)},
          {"dpi_from", dpi_source_name(report.dpi_from)},
          {"placed_by", json_text(placed_by_name(report.placed))},
          {"skew_degrees", report.placed == Placing::by_marks ? json_number(report.skew, 3) : Json(nullptr)},
          {"colour", colour_space_name(report.colour)},
          {"notes", report.file_notes}};
}

Json input_json(const Report& report) {
  return {{"file_sha256", json_text(report.file_sha256)}, {"job_sha256", json_text(report.job_sha256)}};
}

Json positions_json(const std::vector<Length>& positions) {
  Json json = Json::array();
  for (const Length position : positions) json.push_back(json_mm(position));
  return json;
}

/// Widths of the columns that the vertical folds make.
Json panels_json(const SideLayout& layout, Length trim_width) {
  Json json = Json::array();
  Length from;
  for (const Length fold : layout.folds) json.push_back(json_mm(fold - from)), from = fold;
  json.push_back(json_mm(trim_width - from));
  return json;
}

Json limit_json(const Limit& limit) {
  const auto value = std::visit(
      [](const auto& held) {
        if constexpr (std::is_same_v<std::decay_t<decltype(held)>, double>)
          return json_ppi(held);
        else
          return json_mm(held);
      },
      limit.value);
  return {{"value", value}, {"from", limit_source_name(limit.from)}};
}

Json job_json(const Report& report) {
  const Job& job = report.job;
  const SideLayout& layout = job.layout(report.page.side);
  Json limits = Json::object();
  for (const auto& [key, limit] : job.limits.all()) limits[key] = limit_json(limit);
  return {{"name", json_text(job.name)},
          {"trim_mm", Json::array({json_mm(job.trim.width), json_mm(job.trim.height)})},
          {"bleed_mm", json_mm(job.bleed)},
          {"safe_mm", json_mm(job.safe)},
          {"folds_mm", positions_json(layout.folds)},
          {"folds_y_mm", positions_json(layout.folds_y)},
          {"panels_mm", panels_json(layout, job.trim.width)},
          {"trim_px", json_px(report.trim_px)},
          {"limits", limits}};
}

std::string_view outcome_name(CheckResult::State state) {
  switch (state) {
    case CheckResult::State::found:
      return "found";
    case CheckResult::State::clear:
      return "clear";
    case CheckResult::State::not_assessed:
      return "not-assessed";
  }
  return "";
}

Json checks_json(const Report& report) {
  Json json = Json::array();
  for (const CheckResult& check : report.checks)
    json.push_back(
        {{"check", check.check}, {"outcome", outcome_name(check.state)}, {"why", json_text(check.why)}});
  return json;
}

Json image_json(const ImageResolution& image) {
  Json ppi = nullptr;
  if (image.ppi_x && image.ppi_y) ppi = Json::array({json_ppi(*image.ppi_x), json_ppi(*image.ppi_y)});
  return {{"box_mm", json_mm(image.box)},
          {"ppi", ppi},
          {"at_least", json_ppi(image.at_least)},
          {"why", json_text(image.why)},
          {"confidence", json_number(image.confidence, 2)},
          {"drawn", image.drawn}};
}

template <class Value>
Json value_or_null(const std::optional<Value>& value) {
  return value ? Json(*value) : Json(nullptr);
}

/// What was measured and asked for: in ppi where the finding is about resolution, else in millimetres.
void add_measures(Json& json, const Finding& finding) {
  const bool resolution = finding.check == "resolution" || finding.measured_ppi || finding.required_ppi;
  if (resolution) {
    json["measured_ppi"] = json_ppi(finding.measured_ppi);
    json["required_ppi"] = json_ppi(finding.required_ppi);
  } else {
    json["measured_mm"] = json_mm(finding.measured);
    json["required_mm"] = json_mm(finding.required);
  }
}

Json finding_json(const Finding& finding, std::size_t id, const Report& report) {
  Json json = {{"id", id},
               {"check", finding.check},
               {"kind", finding.kind},
               {"severity", severity_name(finding.severity)},
               {"box_mm", json_mm(finding.box)},
               {"box_px", json_px(report.to_pixels(finding.box))},
               {"whole_mm", json_mm(finding.whole)},
               {"edge", finding.edge ? json_text(edge_name(*finding.edge)) : Json(nullptr)},
               {"fold", value_or_null(finding.fold)},
               {"panel", value_or_null(finding.panel)},
               {"panel_name", json_text(finding.panel_name)}};
  add_measures(json, finding);
  if (finding.accepted) json["accepted"] = {{"why", finding.accepted->why}, {"who", finding.accepted->who}};
  json["message"] = finding.message;
  json["advice"] = finding.advice;
  return json;
}

}  // namespace

std::string report_json(const Report& report) {
  Json images = Json::array();
  for (const ImageResolution& image : report.images) images.push_back(image_json(image));
  Json findings = Json::array();
  for (const Finding& finding : report.findings)
    findings.push_back(finding_json(finding, findings.size() + 1, report));
  return json_document({{"frisket_report", 1},
                        {"tool", json_tool()},
                        {"input", input_json(report)},
                        {"page", page_json(report)},
                        {"job", job_json(report)},
                        {"verdict", verdict_name(report.verdict)},
                        {"checks", checks_json(report)},
                        {"images", images},
                        {"findings", findings}});
}

}  // namespace frisket
