// page-size: is the canvas the size the job asks for? Where it is not, size_causes.cpp names the likely
// cause.
#include <array>
#include <cmath>

#include "checks/checks.hpp"
#include "checks/size_causes.hpp"
#include "checks/trim_marks.hpp"
#include "checks/wording.hpp"
#include "page/placing/size_fits.hpp"

namespace frisket {
namespace {

/// The file's resolution and the ticket's may differ by this much before it is said (design: 1 %).
constexpr double dpi_tolerance = 0.01;

Size canvas_size(const Page& page, double dpi) {
  return {Length::from_inches(page.canvas->width / dpi), Length::from_inches(page.canvas->height / dpi)};
}

FileCanvas file_canvas(const Page& page) {
  return {page.canvas->width, page.canvas->height, page.dpi, page.file_dpi};
}

Finding size_differs(const Page& page, const Job& job) {
  const Size canvas = canvas_size(page, page.dpi), full = full_size(job);
  Finding finding;
  finding.kind = "size-differs";
  finding.severity = Severity::fix;
  finding.message =
      "Page is " + size_text(canvas, job.unit) + " at " + plain_text(page.dpi) + " dpi; expected " +
      exact_size_text(full, job.unit) +
      (full == job.trim ? "." : " with bleed, or the trim size " + exact_size_text(job.trim, job.unit) + ".");
  if (const auto cause = size_cause(file_canvas(page), job)) {
    finding.message += " " + cause->what;
    finding.advice = cause->advice;
    return finding;
  }
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

/// A note where nothing says more: a slug without marks is common. Where the canvas is exactly something that
/// people have a name for (another document, the bleed twice, another unit), that slip is more probable than
/// a slug that has its size by chance; then the trim hardly lies in the middle, and a note would let it pass.
Finding larger_canvas(const Page& page, const Job& job) {
  const std::string start = "Page is " + size_text(canvas_size(page, page.dpi), job.unit) +
                            ", larger than trim and bleed, " + exact_size_text(full_size(job), job.unit);
  const std::string middle = "the trim is taken to lie in its middle.";
  if (const auto cause = larger_canvas_cause(file_canvas(page), job)) {
    Finding finding = note("larger-canvas", start + ". " + cause->what + " Inspected all the same: " + middle,
                           cause->advice);
    finding.severity = Severity::review;
    return finding;
  }
  return note("larger-canvas", start + "; " + middle,
              "Check on the overlay that the trim lies where you mean it, or export trim and bleed only.");
}

Outcome check_page_size(const Page& page, const Job& job, const Limits&) {
  Outcome outcome;
  const bool bleed_wanted = !(job.bleed == Edges{});
  switch (page.placement.how) {
    case Placing::by_bleed:
    case Placing::by_boxes:
    case Placing::by_marks:
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
      outcome.findings.push_back(larger_canvas(page, job));
      break;
    case Placing::fits_nothing:
      if (!page.marks) outcome.findings.push_back(size_differs(page, job));
      break;
  }
  for (Finding& finding : findings_of_marks_and_boxes(page, job))
    outcome.findings.push_back(std::move(finding));
  if (page.file_dpi && std::abs(*page.file_dpi / page.dpi - 1.0) > dpi_tolerance) {
    Finding differs = note("file-dpi-differs",
                           "File says " + plain_text(*page.file_dpi) + " dpi; it was inspected at " +
                               plain_text(page.dpi) + " dpi, as the job asks.",
                           "Make sure which is right: at the file's own dpi the page is " +
                               size_text(canvas_size(page, *page.file_dpi), job.unit) + ".");
    differs.severity = Severity::review;
    outcome.findings.push_back(std::move(differs));
  }
  return outcome;
}

constexpr std::array<std::string_view, 9> kinds_of_page_size{
    "size-differs",      "no-bleed",     "file-dpi-differs", "larger-canvas", "marks-differ",
    "fold-marks-differ", "boxes-differ", "bleed-box-short",  "crooked"};

}  // namespace

const Check page_size_check{"page-size", {}, check_page_size, false, kinds_of_page_size};

}  // namespace frisket
