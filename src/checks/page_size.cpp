// page-size: is the canvas the size the job asks for? Where it fits nothing, the same arithmetic names the
// likely cause: turned, another standard size, right at another resolution, scaled.
#include <cmath>
#include <cstdio>

#include "checks/checks.hpp"
#include "frisket/sizes.hpp"
#include "page/placing.hpp"

namespace frisket {
namespace {

/// Resolutions that pages are commonly rendered at (common practice, no source).
constexpr std::array usual_dpi{72.0,  96.0,  100.0, 150.0, 200.0, 240.0, 250.0,
                               300.0, 350.0, 400.0, 450.0, 600.0, 1200.0};
/// The file's resolution and the ticket's may differ by this much before it is said (design: 1 %).
constexpr double dpi_tolerance = 0.01;

Size full_size(const Job& job) {
  return {job.trim.width + job.bleed.left + job.bleed.right,
          job.trim.height + job.bleed.top + job.bleed.bottom};
}

Size canvas_size(const Page& page, double dpi) {
  return {Length::from_inches(page.raster->width / dpi), Length::from_inches(page.raster->height / dpi)};
}

bool close(const Size& a, const Size& b, Length tolerance) {
  return abs(a.width - b.width) <= tolerance && abs(a.height - b.height) <= tolerance;
}

bool fits(const Size& canvas, const Job& job, Length tolerance) {
  return close(canvas, full_size(job), tolerance) || close(canvas, job.trim, tolerance);
}

/// "11 x 8.5 in", and "11.01 x 8.51 in" for what was only measured.
std::string exact_size_text(const Size& size, Unit unit) {
  std::string width = to_exact_text(size.width, unit);
  width.resize(width.rfind(' '));
  return width + " x " + to_exact_text(size.height, unit);
}
std::string size_text(const Size& size, Unit unit) {
  std::string width = to_text(size.width, unit);
  width.resize(width.rfind(' '));
  return width + " x " + to_text(size.height, unit);
}

std::string number_text(double value, const char* format) {
  std::array<char, 32> text{};
  const int count = std::snprintf(text.data(), text.size(), format, value);
  return {text.data(), static_cast<std::size_t>(count)};
}

/// What the canvas would be, each as a clause: "It is A4 upright".
std::vector<std::string> causes(const Page& page, const Job& job) {
  std::vector<std::string> found;
  const Length tolerance = placing_tolerance(page.dpi);
  const Size canvas = canvas_size(page, page.dpi);
  const Size turned{canvas.height, canvas.width};
  if (fits(turned, job, tolerance)) found.push_back("It is right when turned by 90 degrees");

  const auto named = [&](const Size& size, const std::string& addition) {
    const auto matches = match_named_sizes(size, tolerance);
    if (matches.empty()) return false;
    const bool square = matches.front().named.size.width == matches.front().named.size.height;
    found.push_back("It is " + matches.front().named.name +
                    (square                   ? ""
                     : matches.front().turned ? " landscape"
                                              : " portrait") +
                    addition);
    return true;
  };
  if (!named(canvas, "")) {
    const Size less_bleed{canvas.width - job.bleed.left - job.bleed.right,
                          canvas.height - job.bleed.top - job.bleed.bottom};
    if (!(job.bleed == Edges{})) named(less_bleed, " with this job's bleed");
  }

  for (const double dpi : usual_dpi)
    if (std::abs(dpi / page.dpi - 1.0) > dpi_tolerance &&
        fits(canvas_size(page, dpi), job, placing_tolerance(dpi)))
      found.push_back("It is right at " + number_text(dpi, "%.0f") + " dpi");

  for (const Size& wanted : {full_size(job), job.trim}) {
    const double x = canvas.width / wanted.width, y = canvas.height / wanted.height;
    if (found.empty() && std::abs(x / y - 1.0) < 0.005)
      found.push_back("It is scaled to " + number_text(100.0 * std::sqrt(x * y), "%.1f") + " %" +
                      (wanted == job.trim ? " of the trim" : " of trim and bleed"));
  }
  return found;
}

Finding size_differs(const Page& page, const Job& job) {
  const Size canvas = canvas_size(page, page.dpi), full = full_size(job);
  Finding finding;
  finding.kind = "size-differs";
  finding.severity = Severity::fix;
  finding.message =
      "Page is " + size_text(canvas, job.unit) + " at " + number_text(page.dpi, "%.4g") + " dpi; expected " +
      exact_size_text(full, job.unit) +
      (full == job.trim ? "." : " with bleed, or the trim size " + exact_size_text(job.trim, job.unit) + ".");
  for (const std::string& cause : causes(page, job)) finding.message += " " + cause + ".";
  finding.advice = "Set the document to " + exact_size_text(job.trim, job.unit) +
                   (full == job.trim ? "" : ", export it with its bleed") +
                   " at 100 %, and check that the dpi is right.";
  return finding;
}

Finding note(std::string_view kind, std::string message, std::string advice) {
  Finding finding;
  finding.kind = kind;
  finding.severity = Severity::note;
  finding.message = std::move(message);
  finding.advice = std::move(advice);
  return finding;
}

Outcome check_page_size(const Page& page, const Job& job, const Limits&) {
  Outcome outcome;
  const Size canvas = canvas_size(page, page.dpi);
  const bool bleed_wanted = !(job.bleed == Edges{});
  switch (page.placement.how) {
    case Placing::by_bleed:
      break;
    case Placing::by_trim:
      if (bleed_wanted)
        outcome.findings.push_back(
            note("no-bleed",
                 "Page has no bleed: it is the trim size, " + exact_size_text(job.trim, job.unit) + ".",
                 "If colour or a picture reaches an edge, export the page again with its bleed, " +
                     exact_size_text(full_size(job), job.unit) + "."));
      break;
    case Placing::centred:
      outcome.findings.push_back(
          note("larger-canvas",
               "Page is " + size_text(canvas, job.unit) + ", larger than trim and bleed, " +
                   exact_size_text(full_size(job), job.unit) + "; the trim is taken to lie in its middle.",
               "Check on the overlay that the trim lies where you mean it, or export trim and bleed only."));
      break;
    case Placing::fits_nothing:
      outcome.findings.push_back(size_differs(page, job));
      break;
  }
  if (page.file_dpi && std::abs(*page.file_dpi / page.dpi - 1.0) > dpi_tolerance) {
    Finding differs = note("file-dpi-differs",
                           "File says " + number_text(*page.file_dpi, "%.4g") + " dpi; it was inspected at " +
                               number_text(page.dpi, "%.4g") + " dpi, as the job asks.",
                           "Make sure which is right: at the file's own dpi the page is " +
                               size_text(canvas_size(page, *page.file_dpi), job.unit) + ".");
    differs.severity = Severity::review;
    outcome.findings.push_back(std::move(differs));
  }
  return outcome;
}

}  // namespace

const Check page_size_check{"page-size", {}, check_page_size, false};

}  // namespace frisket
