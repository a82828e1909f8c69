#include "frisket/inspect.hpp"

#include <algorithm>

#include "frisket/head_start.hpp"

namespace frisket {
namespace {

struct Dpi {
  double value;
  DpiSource from;
};

Dpi stated_dpi(const Raster& raster, const Job& job, const PageRequest& request) {
  if (request.dpi_flag) return {*request.dpi_flag, DpiSource::flag};
  if (job.dpi) return {*job.dpi, DpiSource::ticket};
  if (raster.file_dpi) return {*raster.file_dpi, DpiSource::file};
  throw Error("resolution unknown: the file does not say it; add \"dpi\" to the ticket or give --dpi");
}

Dpi resolve_dpi(const Raster& raster, const Job& job, const PageRequest& request) {
  constexpr double least = 1, most = 100'000;  // far beyond any page; lengths in pixels stay numbers
  const Dpi dpi = stated_dpi(raster, job, request);
  if (!(dpi.value >= least && dpi.value <= most))
    throw Error("the resolution is none that a page can have; add \"dpi\" to the ticket or give --dpi");
  return dpi;
}

/// The panel that holds the middle of `box`, from 1; empty where it lies outside the trim.
std::optional<int> panel_at(const Rect& box, const SideLayout& layout) {
  const Point middle{box.x + box.width / 2.0, box.y + box.height / 2.0};
  for (std::size_t i = 0; i < layout.panels.size(); ++i) {
    const Rect& area = layout.panels[i].area;
    if (middle.x >= area.left() && middle.x < area.right() && middle.y >= area.top() &&
        middle.y < area.bottom())
      return static_cast<int>(i) + 1;
  }
  return std::nullopt;
}

/// A box in the bleed belongs to the panel it runs out of.
Rect inside_trim(const Rect& box, const Size& trim) {
  const Length hair = Length::from_mm(1e-6);
  const auto clamped = [&](Length at, Length end) { return std::clamp(at, Length(), end - hair); };
  return Rect::from_sides(clamped(box.left(), trim.width), clamped(box.top(), trim.height),
                          clamped(box.right(), trim.width), clamped(box.bottom(), trim.height));
}

void name_panel(Finding& finding, const Job& job, std::optional<Side> side) {
  if (finding.box.empty() || !job.folded) return;
  const SideLayout& layout = job.layout(side);
  finding.panel = panel_at(inside_trim(finding.box, job.trim), layout);
  if (finding.panel) finding.panel_name = layout.panels[static_cast<std::size_t>(*finding.panel - 1)].name;
}

/// A page is called as the ticket calls it, or by a path that ends so.
bool is_page(const AcceptedFinding& accepted, const PageRequest& page) {
  return accepted.number == page.number &&
         (page.file == accepted.page || page.file.ends_with("/" + accepted.page));
}

/// Each line of the ticket lets one finding pass.
void let_pass(Report& report) {
  for (const AcceptedFinding& accepted : report.job.accepted) {
    if (!is_page(accepted, report.page)) continue;
    const auto found = std::ranges::find_if(report.findings, [&](const Finding& finding) {
      return !finding.accepted && accepts(accepted, finding);
    });
    if (found != report.findings.end()) found->accepted = Acceptance{accepted.why, accepted.who};
  }
}

Verdict verdict_of(const Report& report) {
  const auto any = [&](Severity severity) {
    return std::ranges::any_of(report.findings,
                               [&](const Finding& f) { return f.severity == severity && !f.accepted; });
  };
  if (any(Severity::fix)) return Verdict::fix;
  if (any(Severity::review)) return Verdict::review;
  if (std::ranges::any_of(report.checks,
                          [](const CheckResult& c) { return c.state == CheckResult::State::not_assessed; }))
    return Verdict::not_assessed;
  return any(Severity::note) ? Verdict::note : Verdict::clear;
}

/// A check that found nothing on half of a page has found nothing out.
std::optional<std::string> not_wholly_seen(const Check& check, const Page& page) {
  if (!check.needs_placing || page.canvas->unseen.empty()) return std::nullopt;
  std::string why;
  for (const std::string& reason : page.canvas->unseen) why += (why.empty() ? "" : "; ") + reason;
  return why;
}

void run_check(const Check& check, const Page& page, Report& report) {
  Outcome outcome;
  if (check.needs_placing && page.placement.how == Placing::fits_nothing)
    outcome.not_assessed = "the page does not fit the job's size, so trim and folds cannot be laid over it";
  else
    outcome = check.run(page, report.job, report.job.limits);

  if (outcome.findings.empty() && !outcome.not_assessed) outcome.not_assessed = not_wholly_seen(check, page);

  CheckResult result{check.name, CheckResult::State::clear, outcome.not_assessed.value_or("")};
  if (!outcome.findings.empty()) result.state = CheckResult::State::found;
  if (outcome.not_assessed) result.state = CheckResult::State::not_assessed;
  report.checks.push_back(std::move(result));

  std::ranges::stable_sort(outcome.findings, {},
                           [](const Finding& f) { return std::pair(f.box.y, f.box.x); });
  for (Finding& finding : outcome.findings) {
    finding.check = check.name;
    name_panel(finding, report.job, page.side);
    report.findings.push_back(std::move(finding));
  }
  for (ImageResolution& image : outcome.images) report.images.push_back(std::move(image));
}

}  // namespace

std::string_view dpi_source_name(DpiSource source) {
  switch (source) {
    case DpiSource::flag:
      return "flag";
    case DpiSource::ticket:
      return "ticket";
    case DpiSource::file:
      return "file";
  }
  return "";
}

std::string_view verdict_name(Verdict verdict) {
  switch (verdict) {
    case Verdict::fix:
      return "fix";
    case Verdict::review:
      return "review";
    case Verdict::not_assessed:
      return "not-assessed";
    case Verdict::note:
      return "note";
    case Verdict::clear:
      return "clear";
  }
  return "";
}

PixelRect Report::to_pixels(const Rect& rect) const {
  return {trim_px.x + rect.x.mm() * px_per_mm, trim_px.y + rect.y.mm() * px_per_mm,
          rect.width.mm() * px_per_mm, rect.height.mm() * px_per_mm};
}

Report inspect(const Raster& raster, const Job& job, const PageRequest& request, const StageSink& sink,
               HeadStart* head_start) {
  const Dpi dpi = resolve_dpi(raster, job, request);
  const Page page = analyse(raster, job, request.side, dpi.value, sink, head_start);

  Report report;
  report.page = request;
  report.width_px = raster.width;
  report.height_px = raster.height;
  report.dpi = dpi.value;
  report.dpi_from = dpi.from;
  report.colour = raster.colour;
  report.job = job;
  report.file_notes = raster.notes;
  report.trim_px = page.on_canvas.trim_px;
  report.px_per_mm = page.on_canvas.px_per_mm;
  report.placed = page.on_canvas.how;
  report.skew = page.on_canvas.skew;
  StageClock clock(sink);
  for (const Check& check : all_checks()) {
    run_check(check, page, report);
    clock.end(check.name);
  }
  let_pass(report);
  report.verdict = verdict_of(report);
  return report;
}

}  // namespace frisket
