#include <algorithm>
#include <array>

#include "frisket/report.hpp"
#include "report/summary_entry.hpp"
#include "report/verdict.hpp"

namespace frisket {
namespace {

constexpr std::array<Verdict, 5> all_verdicts{Verdict::fix, Verdict::review, Verdict::not_assessed,
                                              Verdict::note, Verdict::clear};

/// How many pages came to each verdict.
Json verdicts_json(std::span<const SummaryEntry> pages) {
  Json json = Json::object();
  for (const Verdict verdict : all_verdicts)
    json[std::string(verdict_name(verdict))] = std::ranges::count_if(
        pages, [&](const SummaryEntry& page) { return page.outcome && page.outcome->verdict == verdict; });
  return json;
}

}  // namespace

PageOutcome outcome_of(const Report& report) {
  return {report.job.name,
          report.page.side,
          report.verdict,
          count_findings(report, Severity::fix),
          count_findings(report, Severity::review),
          count_findings(report, Severity::note),
          count_accepted(report),
          not_assessed_checks(report)};
}

Json entry_json(const SummaryEntry& entry) {
  const auto known = [&](auto value_of) {
    return entry.outcome ? Json(value_of(*entry.outcome)) : Json(nullptr);
  };
  const bool sided = entry.outcome && entry.outcome->side;
  return {{"file", entry.file},
          {"number", entry.number},
          {"ticket", json_text(entry.ticket)},
          {"job", entry.outcome ? json_text(entry.outcome->job) : Json(nullptr)},
          {"side", sided ? json_text(side_name(*entry.outcome->side)) : Json(nullptr)},
          {"verdict", known([](const PageOutcome& outcome) { return verdict_name(outcome.verdict); })},
          {"fix", known([](const PageOutcome& outcome) { return outcome.fix; })},
          {"review", known([](const PageOutcome& outcome) { return outcome.review; })},
          {"note", known([](const PageOutcome& outcome) { return outcome.note; })},
          {"accepted", known([](const PageOutcome& outcome) { return outcome.accepted; })},
          {"not_assessed", entry.outcome ? Json(entry.outcome->not_assessed) : Json::array()},
          {"error", json_text(entry.error)},
          {"findings_file", json_text(entry.findings_file)},
          {"overlay_file", json_text(entry.overlay_file)}};
}

std::string summary_json(const Summary& summary) {
  Json entries = Json::array();
  for (const SummaryEntry& page : summary.pages) {
    entries.push_back(entry_json(page));
    if (summary.shard) entries.back()["position"] = page.position;
  }
  const auto inspected =
      std::ranges::count_if(summary.pages, [](const SummaryEntry& page) { return page.outcome.has_value(); });
  Json json = {{"frisket_summary", 1},
               {"tool", json_tool()},
               {"complete", summary.complete},
               {"pages_total", summary.pages.size()},
               {"pages_inspected", inspected},
               {"verdicts", verdicts_json(summary.pages)},
               {"left_alone",
                {{"hidden", summary.hidden}, {"unknown", summary.unknown}, {"not_asked", summary.not_asked}}},
               {"pages", entries}};
  if (const auto& shard = summary.shard)
    json["shard"] = {{"part", shard->part}, {"of", shard->of}, {"files", shard->files}};
  return json_document(json);
}

}  // namespace frisket
