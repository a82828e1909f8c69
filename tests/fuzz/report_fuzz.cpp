// The writers with hostile texts and numbers, and the readers with hostile documents.
#include <glib.h>

#include <limits>
#include <nlohmann/json.hpp>

#include "frisket/check.hpp"
#include "frisket/report.hpp"
#include "target.hpp"

namespace frisket {
namespace {

/// Names of checks and kinds are views: they come from a closed list.
constexpr const char* kinds[]{"text-in-band", "short-bleed", "sliver", "low-ppi", "text-across-fold"};

double drawn_number(Drawn& drawn) {
  constexpr double special[]{0,
                             -1,
                             1e9,
                             -1e9,
                             1e300,
                             std::numeric_limits<double>::infinity(),
                             std::numeric_limits<double>::quiet_NaN(),
                             5e-324};
  return drawn.byte() % 4 == 0 ? drawn.one_of(special) : drawn.between(-50'000, 50'000) / 100.0;
}

Length drawn_length(Drawn& drawn) { return Length::from_mm(drawn_number(drawn)); }

Rect drawn_rect(Drawn& drawn) {
  return {drawn_length(drawn), drawn_length(drawn), drawn_length(drawn), drawn_length(drawn)};
}

template <class Value>
std::optional<Value> perhaps(Drawn& drawn, Value value) {
  return drawn.coin() ? std::optional(value) : std::nullopt;
}

Finding drawn_finding(Drawn& drawn) {
  Finding finding;
  finding.check = all_checks()[drawn.byte() % all_checks().size()].name;
  finding.kind = drawn.one_of(kinds);
  finding.severity = static_cast<Severity>(drawn.byte() % 3);
  finding.box = drawn_rect(drawn);
  finding.whole = drawn_rect(drawn);
  finding.edge = perhaps(drawn, all_edges[drawn.byte() % 4]);
  finding.fold = perhaps(drawn, drawn.between(-1, 3));
  finding.panel = perhaps(drawn, drawn.between(-1, 4));
  finding.panel_name = drawn.text(40);
  finding.measured = perhaps(drawn, drawn_length(drawn));
  finding.required = perhaps(drawn, drawn_length(drawn));
  finding.measured_ppi = perhaps(drawn, drawn_number(drawn));
  finding.required_ppi = perhaps(drawn, drawn_number(drawn));
  finding.message = drawn.text();
  finding.advice = drawn.text();
  if (drawn.coin()) finding.accepted = Acceptance{drawn.text(40), drawn.text(40)};
  return finding;
}

Job drawn_job(Drawn& drawn) {
  constexpr const char* folds[]{"", "half", "letter", "cross"};
  std::vector<JobFlag> flags{
      {"trim", std::to_string(drawn.between(30, 400)) + "x" + std::to_string(drawn.between(30, 400)) + "mm"},
      {"bleed", std::to_string(drawn.between(0, 5)) + "mm"}};
  if (const std::string fold = drawn.one_of(folds); !fold.empty()) flags.push_back({"folds", fold});
  static const std::vector<LimitSpec> limits = all_limits();
  Job job = job_from_flags(flags, limits);
  job.name = drawn.text();
  for (Panel& panel : job.outside.panels) panel.name = drawn.text(20);
  return job;
}

Report drawn_report(Drawn& drawn) {
  Report report;
  report.job = drawn_job(drawn);
  report.page = {drawn.text(), drawn.between(-1, 9),
                 report.job.folded ? std::optional(Side::outside) : std::nullopt, std::nullopt};
  report.width_px = drawn.between(1, 60);
  report.height_px = drawn.between(1, 60);
  report.dpi = drawn.byte() % 8 == 0 ? drawn_number(drawn) : 10;
  report.px_per_mm = report.dpi / mm_per_inch;
  report.placed = static_cast<Placing>(drawn.byte() % 6);
  report.trim_px = {1, 1, report.width_px - 2.0, report.height_px - 2.0};
  for (const Check& check : all_checks())
    report.checks.push_back({check.name, static_cast<CheckResult::State>(drawn.byte() % 3), drawn.text(60)});
  for (int count = drawn.between(0, 6); count > 0; --count) report.findings.push_back(drawn_finding(drawn));
  for (int count = drawn.between(0, 3); count > 0; --count)
    report.images.push_back({drawn_rect(drawn), perhaps(drawn, drawn_number(drawn)),
                             perhaps(drawn, drawn_number(drawn)), perhaps(drawn, drawn_number(drawn)),
                             drawn.text(60), drawn_number(drawn)});
  for (int count = drawn.between(0, 3); count > 0; --count) report.file_notes.push_back(drawn.text());
  report.verdict = static_cast<Verdict>(drawn.byte() % 5);
  return report;
}

void require_xml(const std::string& document) {
  const GMarkupParser quiet{};
  GMarkupParseContext* context = g_markup_parse_context_new(&quiet, GMarkupParseFlags(0), nullptr, nullptr);
  const bool whole =
      g_markup_parse_context_parse(context, document.data(), gssize(document.size()), nullptr) != 0 &&
      g_markup_parse_context_end_parse(context, nullptr) != 0;
  g_markup_parse_context_free(context);
  require(whole, "the overlay is well-formed XML");
}

/// Texts as harmless as can be, as many as there are.
Report tamed(Report report) {
  const auto tame = [](std::string& text) {
    if (!text.empty()) text = "x";
  };
  tame(report.page.file), tame(report.job.name);
  for (Panel& panel : report.job.outside.panels) tame(panel.name);
  for (CheckResult& check : report.checks) tame(check.why);
  for (std::string& note : report.file_notes) tame(note);
  for (ImageResolution& image : report.images) tame(image.why);
  for (Finding& finding : report.findings) {
    tame(finding.panel_name), tame(finding.message), tame(finding.advice);
    if (finding.accepted) tame(finding.accepted->why), tame(finding.accepted->who);
  }
  return report;
}

std::ptrdiff_t tags(const std::string& document) { return std::ranges::count(document, '<'); }

void require_tame_html(const Report& report) {
  Raster raster;
  raster.width = report.width_px;
  raster.height = report.height_px;
  raster.rgb.assign(std::size_t(raster.width) * std::size_t(raster.height) * 3, 255);
  const Report harmless = tamed(report);
  require(tags(report_html(raster, report, report.file_notes)) ==
              tags(report_html(raster, harmless, harmless.file_notes)),
          "no text adds a tag to the report");
  require(!overlay_png(raster, report).empty(), "every report can be drawn");
}

void write_all(const Report& report) {
  const std::string written = report_json(report);
  require(nlohmann::json::accept(written), "the findings are JSON");
  require_xml(overlay_svg(report, 1));
  SummaryEntry entry{report.page.file,   report.page.number, "",
                     outcome_of(report), "a.findings.json",  "a.overlay.png"};
  require(nlohmann::json::accept(json_line(entry, written)), "a line is JSON");
  const std::string rows = csv_rows(entry, written);
  require(rows.empty() || rows.ends_with("\n"), "a row is whole");
  Summary summary{{entry, {report.page.file, 2, report.job.name + "!"}}};
  require(nlohmann::json::accept(summary_json(summary)), "the summary is JSON");
  require(verdict_sentence(report).find('\n') == std::string::npos, "a verdict is one line");
}

template <class Read>
void read_hostile(Read read, const std::string& document) {
  try {
    read(document);
  } catch (const Error&) {
  }
}

}  // namespace
}  // namespace frisket

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace frisket;
  with_imaging_library();
  Drawn drawn({data, size});
  const int what = drawn.byte() % 8;
  if (what < 2) {
    const std::string document = drawn.rest();
    read_hostile(
        what == 0 ? [](const std::string& text) { read_report(text); }
                  : [](const std::string& text) { read_summary(text); },
        document);
    return 0;
  }
  try {
    const Report report = drawn_report(drawn);
    write_all(report);
    if (what == 2) require_tame_html(report);
  } catch (const Error& error) {
    require(error.what()[0] != '\0', "every error has words");
  }
  return 0;
}
