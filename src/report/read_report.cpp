#include <set>

#include "frisket/report.hpp"
#include "report/read_json.hpp"

namespace frisket {
namespace {

constexpr std::array all_sides{Side::inside, Side::outside};
constexpr std::array all_severities{Severity::fix, Severity::review, Severity::note};
constexpr std::array all_verdicts{Verdict::fix, Verdict::review, Verdict::not_assessed, Verdict::note,
                                  Verdict::clear};
constexpr std::array all_dpi_sources{DpiSource::flag, DpiSource::ticket, DpiSource::file};
constexpr std::array all_colours{ColourSpace::srgb, ColourSpace::grey, ColourSpace::cmyk};
constexpr std::array all_limit_sources{LimitSource::standard, LimitSource::printer, LimitSource::ticket,
                                       LimitSource::flag};

/// Names of checks and kinds are views elsewhere; here they need somebody to hold them.
std::string_view kept_name(const Json& json) {
  static std::set<std::string, std::less<>> names;
  return *names.insert(json.get<std::string>()).first;
}

constexpr std::array all_placings{Placing::by_bleed, Placing::by_boxes, Placing::by_marks, Placing::centred};

template <class Value>
std::optional<Value> optional_of(const Json& json) {
  return json.is_null() ? std::nullopt : std::optional(json.get<Value>());
}

Length length_of(const Json& json) { return Length::from_mm(json.get<double>()); }

std::optional<Length> optional_length(const Json& json) {
  return json.is_null() ? std::nullopt : std::optional(length_of(json));
}

Rect rect_of(const Json& json) {
  if (json.is_null()) return {};
  return {length_of(json.at("x")), length_of(json.at("y")), length_of(json.at("width")),
          length_of(json.at("height"))};
}

Edges edges_of(const Json& json) {
  return {length_of(json.at("top")), length_of(json.at("right")), length_of(json.at("bottom")),
          length_of(json.at("left"))};
}

std::vector<Length> lengths_of(const Json& json) {
  std::vector<Length> lengths;
  for (const Json& length : json) lengths.push_back(length_of(length));
  return lengths;
}

std::optional<Side> side_of(const Json& json) {
  return json.is_null() ? std::nullopt : std::optional(named(json, all_sides, side_name));
}

void read_page(const Json& json, Report& report) {
  report.page.file = json.at("file");
  report.page.number = json.at("number");
  report.page.side = side_of(json.at("side"));
  report.width_px = json.at("width_px");
  report.height_px = json.at("height_px");
  report.dpi = json.at("dpi");
  report.dpi_from = named(json.at("dpi_from"), all_dpi_sources, dpi_source_name);
  report.px_per_mm = report.dpi / mm_per_inch;
  if (const Json& by = json.at("placed_by"); !by.is_null())
    report.placed = named(by, all_placings, placed_by_name);
  if (const Json& skew = json.at("skew_degrees"); !skew.is_null()) report.skew = skew;
  report.colour = named(json.at("colour"), all_colours, colour_space_name);
  report.file_notes = json.at("notes");
}

/// The key tells what a limit is measured in, as the schema says.
void read_limit(const std::string& key, const Json& json, Limits& limits) {
  const Json& value = json.at("value");
  const LimitSource from = named(json.at("from"), all_limit_sources, limit_source_name);
  LimitSpec spec{key, LimitKind::length, 0, 0, 0, ""};
  if (key.starts_with("resolution.")) spec.kind = LimitKind::ppi;
  if (value.is_object()) spec.kind = LimitKind::edges;
  switch (spec.kind) {
    case LimitKind::ppi:
      return limits.set(spec, value.get<double>(), from);
    case LimitKind::edges:
      return limits.set(spec, edges_of(value), from);
    case LimitKind::length:
      return limits.set(spec, length_of(value), from);
  }
}

void read_job_of(const Json& json, Report& report) {
  Job& job = report.job;
  job.name = text_or_empty(json.at("name"));
  job.trim = {length_of(json.at("trim_mm").at(0)), length_of(json.at("trim_mm").at(1))};
  job.bleed = edges_of(json.at("bleed_mm"));
  job.safe = edges_of(json.at("safe_mm"));
  job.folded = report.page.side.has_value();
  SideLayout& layout = report.page.side == Side::inside ? job.inside : job.outside;
  layout.folds = lengths_of(json.at("folds_mm"));
  layout.folds_y = lengths_of(json.at("folds_y_mm"));
  if (const Json& trim = json.at("trim_px"); !trim.is_null())
    report.trim_px = {trim.at("x"), trim.at("y"), trim.at("width"), trim.at("height")};
  for (const auto& [key, limit] : json.at("limits").items()) read_limit(key, limit, job.limits);
}

CheckResult check_of(const Json& json) {
  const std::string outcome = json.at("outcome");
  return {kept_name(json.at("check")),
          outcome == "found"   ? CheckResult::State::found
          : outcome == "clear" ? CheckResult::State::clear
                               : CheckResult::State::not_assessed,
          text_or_empty(json.at("why"))};
}

ImageResolution image_of(const Json& json) {
  ImageResolution image;
  image.box = rect_of(json.at("box_mm"));
  if (const Json& ppi = json.at("ppi"); !ppi.is_null()) {
    image.ppi_x = ppi.at(0);
    image.ppi_y = ppi.at(1);
  }
  image.at_least = optional_of<double>(json.at("at_least"));
  image.why = text_or_empty(json.at("why"));
  image.confidence = json.at("confidence");
  image.drawn = json.value("drawn", false);  // reports written before there was one lack it
  return image;
}

Finding finding_of(const Json& json) {
  Finding finding;
  finding.check = kept_name(json.at("check"));
  finding.kind = kept_name(json.at("kind"));
  finding.severity = named(json.at("severity"), all_severities, severity_name);
  finding.box = rect_of(json.at("box_mm"));
  finding.whole = rect_of(json.at("whole_mm"));
  if (!json.at("edge").is_null()) finding.edge = named(json.at("edge"), all_edges, edge_name);
  finding.fold = optional_of<int>(json.at("fold"));
  finding.panel = optional_of<int>(json.at("panel"));
  finding.panel_name = text_or_empty(json.at("panel_name"));
  if (json.contains("measured_mm")) {
    finding.measured = optional_length(json.at("measured_mm"));
    finding.required = optional_length(json.at("required_mm"));
  } else {
    finding.measured_ppi = optional_of<double>(json.at("measured_ppi"));
    finding.required_ppi = optional_of<double>(json.at("required_ppi"));
  }
  finding.message = json.at("message");
  finding.advice = json.at("advice");
  if (json.contains("accepted"))
    finding.accepted = {json.at("accepted").at("why"), json.at("accepted").at("who")};
  return finding;
}

}  // namespace

Report read_report(const std::string& text) {
  const Json json = read_document(text, "frisket_report");
  return reading("report", [&] {
    Report report;
    report.file_sha256 = text_or_empty(json.at("input").at("file_sha256"));
    report.job_sha256 = text_or_empty(json.at("input").at("job_sha256"));
    read_page(json.at("page"), report);
    read_job_of(json.at("job"), report);
    report.verdict = named(json.at("verdict"), all_verdicts, verdict_name);
    for (const Json& check : json.at("checks")) report.checks.push_back(check_of(check));
    for (const Json& image : json.at("images")) report.images.push_back(image_of(image));
    for (const Json& finding : json.at("findings")) report.findings.push_back(finding_of(finding));
    return report;
  });
}

}  // namespace frisket
