#pragma once

#include <cmath>
#include <random>
#include <string>

#include "frisket/inspect.hpp"

namespace frisket {

/// A made-up job for the tests of the writers: a letter-fold leaflet of 11 x 8.5 in.
inline Job leaflet_job() {
  Job job;
  job.name = "Brightwater Ferries, summer";
  job.unit = Unit::inch;
  job.trim = {Length::from_inches(11), Length::from_inches(8.5)};
  job.finished = {Length::from_inches(3.6875), Length::from_inches(8.5)};
  job.bleed = Edges::all(Length::from_inches(0.125));
  job.safe = Edges::all(Length::from_inches(0.25));
  job.folded = true;
  const auto layout = [&](std::vector<double> folds, std::vector<std::string> names) {
    SideLayout side;
    double from = 0;
    folds.push_back(11);
    for (std::size_t i = 0; i < folds.size(); ++i) {
      const Length left = Length::from_inches(from), right = Length::from_inches(folds[i]);
      side.panels.push_back({names[i], Rect::from_sides(left, {}, right, job.trim.height)});
      if (i + 1 < folds.size()) side.folds.push_back(right);
      from = folds[i];
    }
    return side;
  };
  job.outside = layout({3.625, 7.3125}, {"tucked panel", "back cover", "front cover"});
  job.inside = layout({3.6875, 7.375}, {"inside left", "inside centre", "inside right"});
  const LimitSpec fold_safe{"fold_safe", LimitKind::length, 1.5, 0, 50, ""};
  const LimitSpec safe{"safe", LimitKind::edges, 3, 0, 100, ""};
  const LimitSpec least{"resolution.least", LimitKind::ppi, 225, 30, 1200, ""};
  job.limits.set(fold_safe, Length::from_mm(3.175), LimitSource::printer);
  job.limits.set(safe, job.safe, LimitSource::ticket);
  job.limits.set(least, 225.0, LimitSource::standard);
  return job;
}

/// A job of one page that is not folded.
inline Job flat_job(Size trim, Length bleed, Length safe) {
  Job job;
  job.trim = job.finished = trim;
  job.bleed = Edges::all(bleed);
  job.safe = Edges::all(safe);
  job.outside.panels = job.inside.panels = {{"page", {{}, {}, trim.width, trim.height}}};
  return job;
}

/// A report without findings: the canvas is the trim with its bleed at `dpi`.
inline Report clear_report(const Job& job, double dpi, std::optional<Side> side = std::nullopt) {
  Report report;
  report.page.file = "outside.png";
  report.page.side = side;
  report.job = job;
  report.dpi = dpi;
  report.dpi_from = DpiSource::ticket;
  report.px_per_mm = dpi / mm_per_inch;
  report.trim_px = {job.bleed.left.pixels(dpi), job.bleed.top.pixels(dpi), job.trim.width.pixels(dpi),
                    job.trim.height.pixels(dpi)};
  const Rect canvas = grown({{}, {}, job.trim.width, job.trim.height}, job.bleed);
  report.width_px = static_cast<int>(std::lround(canvas.width.pixels(dpi)));
  report.height_px = static_cast<int>(std::lround(canvas.height.pixels(dpi)));
  for (const std::string_view check : {"page-size", "safe-zone", "bleed", "folds", "resolution"})
    report.checks.push_back({check, CheckResult::State::clear, ""});
  return report;
}

inline Rect rect_mm(double x, double y, double width, double height) {
  return {Length::from_mm(x), Length::from_mm(y), Length::from_mm(width), Length::from_mm(height)};
}

/// A line of text `distance_mm` from the top trim.
inline Finding headline_finding(double distance_mm = 1.9) {
  Finding finding;
  finding.check = "safe-zone";
  finding.kind = "text-in-band";
  finding.severity = Severity::fix;
  finding.whole = rect_mm(200, distance_mm, 48, 9);
  finding.box = rect_mm(200, distance_mm, 48, 6.35 - distance_mm);
  finding.edge = Edge::top;
  finding.panel = 3;
  finding.panel_name = "front cover";
  finding.measured = Length::from_mm(distance_mm);
  finding.required = Length::from_mm(6.35);
  finding.message = "A line of text on the front cover is 0.07 in from the top trim; 0.25 in is wanted.";
  finding.advice = "Move it down by 0.18 in (12.6 pt).";
  return finding;
}

/// A colour field that stops at the left trim.
inline Finding bleed_finding() {
  Finding finding;
  finding.check = "bleed";
  finding.kind = "short-bleed";
  finding.severity = Severity::fix;
  finding.box = rect_mm(-3.175, 60, 3.175, 100);
  finding.whole = rect_mm(0, 60, 50, 100);
  finding.edge = Edge::left;
  finding.measured = Length();
  finding.required = Length::from_mm(3.175);
  finding.message = "A colour field stops at the left trim; 0.125 in of bleed is wanted.";
  finding.advice = "Draw it out by 0.125 in.";
  return finding;
}

/// A colour break 1.2 mm to the right of the first fold.
inline Finding fold_finding() {
  Finding finding;
  finding.check = "folds";
  finding.kind = "colour-break-off-fold";
  finding.severity = Severity::review;
  finding.box = rect_mm(93.275, 0, 0, 215.9);
  finding.whole = finding.box;
  finding.fold = 1;
  finding.measured = Length::from_mm(1.2);
  finding.required = Length::from_mm(0.5);
  finding.message = "A change of colour lies 0.05 in to the right of the first fold.";
  finding.advice = "Move it onto the fold.";
  return finding;
}

/// A picture of 96 ppi.
inline Finding ppi_finding() {
  Finding finding;
  finding.check = "resolution";
  finding.kind = "low-ppi";
  finding.severity = Severity::review;
  finding.box = finding.whole = rect_mm(110, 120, 60, 45);
  finding.measured_ppi = 96.2;
  finding.required_ppi = 300;
  finding.message = "A picture has about 96 ppi; 300 ppi is wanted.";
  finding.advice = "Place a larger picture.";
  return finding;
}

/// Adds findings and sets check states and verdict as the pipeline would.
inline void add_findings(Report& report, std::vector<Finding> findings) {
  for (Finding& finding : findings) report.findings.push_back(std::move(finding));
  for (CheckResult& check : report.checks)
    for (const Finding& finding : report.findings)
      if (finding.check == check.check) check.state = CheckResult::State::found;
  report.verdict = Verdict::clear;
  for (const Finding& finding : report.findings) {
    const Verdict its = finding.severity == Severity::fix      ? Verdict::fix
                        : finding.severity == Severity::review ? Verdict::review
                                                               : Verdict::note;
    report.verdict = std::min(report.verdict, its);
  }
}

/// `count` findings scattered along edges and folds, the same for the same seed.
inline std::vector<Finding> scattered_findings(const Report& report, int count, unsigned seed) {
  std::mt19937 random(seed);
  const auto within = [&](double low, double high) {
    return low + (high - low) * static_cast<double>(random()) / 4294967295.0;
  };
  const double width = report.job.trim.width.mm(), height = report.job.trim.height.mm();
  const double safe = report.job.safe.top.mm();
  std::vector<Finding> findings;
  for (int i = 0; i < count; ++i) {
    Finding finding = headline_finding();
    finding.severity = i % 3 == 0 ? Severity::fix : i % 3 == 1 ? Severity::review : Severity::note;
    const double distance = within(0.1, 0.9) * safe;
    const double length = within(0.02, 0.2) * std::min(width, height);
    const double at_x = within(0, width - length), at_y = within(0, height - length);
    finding.measured = Length::from_mm(distance);
    finding.edge = all_edges[static_cast<std::size_t>(i % 4)];
    const double depth = safe - distance;
    if (finding.edge == Edge::top) finding.box = rect_mm(at_x, distance, length, depth);
    if (finding.edge == Edge::bottom) finding.box = rect_mm(at_x, height - safe, length, depth);
    if (finding.edge == Edge::left) finding.box = rect_mm(distance, at_y, depth, length);
    if (finding.edge == Edge::right) finding.box = rect_mm(width - safe, at_y, depth, length);
    finding.whole = grown(finding.box, Edges::all(Length::from_mm(2)));
    findings.push_back(finding);
  }
  return findings;
}

/// A page of paper white with blocks of grey, as large as the report says.
inline Raster sample_raster(const Report& report) {
  Raster raster;
  raster.width = report.width_px;
  raster.height = report.height_px;
  raster.rgb.assign(static_cast<std::size_t>(raster.width) * static_cast<std::size_t>(raster.height) * 3,
                    255);
  for (int y = 0; y < raster.height; ++y)
    for (int x = 0; x < raster.width; ++x)
      if ((x / 90 + y / 60) % 3 == 0 && (y / 20) % 2 == 0)
        for (int band = 0; band < 3; ++band)
          raster.rgb[(static_cast<std::size_t>(y) * raster.width + x) * 3 + band] =
              static_cast<std::uint8_t>(20 + 60 * band);
  return raster;
}

}  // namespace frisket
