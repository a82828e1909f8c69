#include <array>

#include "frisket/report.hpp"
#include "report/json_values.hpp"
#include "report/verdict.hpp"

namespace frisket {
namespace {

constexpr std::array<Verdict, 5> all_verdicts{Verdict::fix, Verdict::review, Verdict::not_assessed,
                                              Verdict::note, Verdict::clear};
constexpr std::array<Severity, 3> all_severities{Severity::fix, Severity::review, Severity::note};

Json entry_json(const SummaryEntry& entry) {
  const Report* report = entry.report;
  const bool sided = report && report->page.side;
  Json json = {{"file", entry.file},
               {"number", entry.number},
               {"side", sided ? json_text(side_name(*report->page.side)) : Json(nullptr)},
               {"verdict", report ? json_text(verdict_name(report->verdict)) : Json(nullptr)}};
  for (const Severity severity : all_severities)
    json[std::string(severity_name(severity))] =
        report ? Json(count_findings(*report, severity)) : Json(nullptr);
  json["not_assessed"] = report ? Json(not_assessed_checks(*report)) : Json::array();
  json["error"] = json_text(entry.error);
  json["findings_file"] = json_text(entry.findings_file);
  json["overlay_file"] = json_text(entry.overlay_file);
  return json;
}

/// How many pages came to each verdict.
Json verdicts_json(std::span<const SummaryEntry> pages) {
  Json json = Json::object();
  for (const Verdict verdict : all_verdicts)
    json[std::string(verdict_name(verdict))] = std::ranges::count_if(
        pages, [&](const SummaryEntry& page) { return page.report && page.report->verdict == verdict; });
  return json;
}

}  // namespace

std::string summary_json(std::span<const SummaryEntry> pages) {
  Json entries = Json::array();
  for (const SummaryEntry& page : pages) entries.push_back(entry_json(page));
  const auto inspected =
      std::ranges::count_if(pages, [](const SummaryEntry& page) { return page.report != nullptr; });
  return json_document({{"frisket_summary", 1},
                        {"tool", json_tool()},
                        {"pages_total", pages.size()},
                        {"pages_inspected", inspected},
                        {"verdicts", verdicts_json(pages)},
                        {"pages", entries}});
}

}  // namespace frisket
