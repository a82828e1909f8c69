// bleed: does colour that reaches the trim go on to the bleed's edge? Looked at along each trim edge, where
// one surface of the page ends and another begins.
#include <algorithm>
#include <array>
#include <cmath>

#include "checks/checks.hpp"
#include "checks/wording.hpp"
#include "page/edge_runs.hpp"
#include "page/maps.hpp"

namespace frisket {
namespace {

constexpr std::array limits_of_bleed{
    LimitSpec{"bleed", LimitKind::edges, 3.0, 0.0, 100.0, "how far colour must go on beyond the trim"},
    cut_tolerance,
};

/// Less than this much missing bleed is for a person to judge (design: 1 pt).
constexpr Length review_below = Length::from_points(1.0);
/// Canvas and positions are rounded to whole pixels by whoever rendered the page: a bleed that lacks less is
/// no fault.
constexpr double measuring_px = 1.0;
/// Closer to the trim than this, colour is said to stop at the trim, px.
constexpr double at_trim_px = 0.75;
/// The outline of a picture, found by its texture, is good to this.
constexpr Length picture_reach = Length::from_mm(1.0);

bool is_picture(const Page& page, const EdgeRun& run) {
  if (page.maps->surfaces.of(run.pixels.inner).kind == Surface::Kind::picture) return true;
  return run.element >= 0 && page.elements[static_cast<std::size_t>(run.element)].matter == Matter::picture;
}

Rect box_of(const Page& page, int surface) {
  const cv::Rect& box = page.maps->surfaces.of(surface).box;
  return page.placement.rect_of({double(box.x), double(box.y), double(box.width), double(box.height)});
}

/// A picture that lies along nearly all of the run with its side so far beyond the trim.
const Picture* picture_along(const Page& page, const EdgeRun& run, const Size& trim, Length beyond,
                             Length reach) {
  for (const Picture& picture : page.pictures) {
    const Rect& box = picture.box;
    const Length low = is_vertical(run.edge) ? box.top() : box.left();
    const Length high = is_vertical(run.edge) ? box.bottom() : box.right();
    const Length shared = std::min(high, run.to) - std::max(low, run.from);
    if (shared >= 0.8 * (run.to - run.from) && abs(distance_inside(box, run.edge, trim) + beyond) <= reach)
      return &picture;
  }
  return nullptr;
}

/// The picture that ends along the run, where there is one: its surface may run into what touches it.
const Picture* picture_ending(const Page& page, const EdgeRun& run, const Size& trim) {
  return picture_along(page, run, trim, run.beyond, picture_reach);
}

/// Within a picture that has its full bleed colours change as they like: planks, panes, the rim of a shape.
bool is_inside_picture(const Page& page, const EdgeRun& run, const Job& job, Length noise) {
  if (run.pixels.outer == BoundaryRun::bare_paper) return false;
  const Picture* picture = picture_along(page, run, job.trim, job.bleed.at(run.edge), noise);
  if (picture == nullptr) return false;
  const Rect outer = box_of(page, run.pixels.outer);
  return intersection(outer, grown(picture->box,
                                   {picture_reach, picture_reach, picture_reach, picture_reach})) == outer;
}

/// The picture, field or ground that ends along the run. What is left of a stripe at the end of a ground is
/// an element, but no field of its own.
Rect whole_box(const Page& page, const EdgeRun& run, const Size& trim) {
  if (is_picture(page, run))
    if (const Picture* picture = picture_ending(page, run, trim)) return picture->box;
  const SurfaceMap& surfaces = page.maps->surfaces;
  if (run.element >= 0 && !surfaces.of(run.pixels.inner).bleeds)
    return page.elements[static_cast<std::size_t>(run.element)].box;
  return box_of(page, run.pixels.inner);
}

/// A bleeding strip of colour round paper or another ground is a frame, not colour that stops short; so is a
/// band of a gradient.
bool is_frame(const Page& page, const EdgeRun& run) {
  const Surface& outer = outer_surface(page, run);
  if (!is_paper(outer) && are_bands(outer, page.maps->surfaces.of(run.pixels.inner))) return true;
  return !is_paper(outer) && outer.bleeds && run.outer_confined &&
         (is_paper(page.maps->surfaces.of(run.pixels.inner)) || run.beyond < Length());
}

/// The straight side of a letter is the safe zone's affair.
bool is_text(const Page& page, const EdgeRun& run) {
  return run.element >= 0 && page.elements[static_cast<std::size_t>(run.element)].line >= 0;
}

std::string_view kind_of(const Page& page, const EdgeRun& run, Length tolerance) {
  if (run.beyond < -tolerance) return "sliver";
  const Surface& outer = outer_surface(page, run);
  return !is_paper(outer) && run.outer_confined ? "colour-differs-in-bleed" : "short-bleed";
}

std::string message_of(std::string_view kind, const std::string& subject, const EdgeRun& run, Length at_trim,
                       Length bleed, Unit unit) {
  const std::string edge = trim_edge_text(run.edge),
                    keep = "; it needs " + to_exact_text(bleed, unit) + " of bleed.";
  if (kind == "sliver")
    return subject + " stops " + to_text(-run.beyond, unit) + " inside the " + edge +
           ": a sliver of paper would show.";
  if (kind == "colour-differs-in-bleed")
    return subject + " goes on only " + to_text(run.beyond, unit) + " beyond the " + edge +
           ", then another colour begins" + keep;
  if (abs(run.beyond) <= at_trim) return subject + " stops at the " + edge + keep;
  return subject + " goes on only " + to_text(run.beyond, unit) + " beyond the " + edge + keep;
}

Finding finding_of(const Page& page, const Job& job, const EdgeRun& run) {
  const Length bleed = job.bleed.at(run.edge);
  const Length at_trim = Length::from_mm(at_trim_px / page.placement.px_per_mm);
  Finding finding;
  finding.kind = kind_of(page, run, at_trim);
  finding.severity = bleed - run.beyond < review_below ? Severity::review : Severity::fix;
  // From the end of the colour out to the edge of the bleed, along the run.
  finding.box = along_edge(run.edge, job.trim, -bleed, -run.beyond, run.from, run.to);
  finding.whole = whole_box(page, run, job.trim);
  finding.edge = run.edge;
  finding.measured = run.beyond;
  finding.required = bleed;
  const std::string subject = is_picture(page, run) ? "Picture" : "Colour";
  finding.message = message_of(finding.kind, subject, run, at_trim, bleed, job.unit);
  finding.advice = "Extend it outwards by " + with_points(bleed - run.beyond, job.unit) + ", past the " +
                   trim_edge_text(run.edge) + " to the edge of the bleed.";
  return finding;
}

/// Do two findings tell of one edge of one colour, which other things interrupt?
bool are_one(const Finding& a, const Finding& b) {
  const Length gap = Length::from_mm(2.0), alike = Length::from_mm(0.2);
  if (a.kind != b.kind || a.edge != b.edge || a.severity != b.severity ||
      abs(*a.measured - *b.measured) > alike)
    return false;
  if (a.whole == b.whole) return true;
  return is_vertical(*a.edge) ? b.box.top() - a.box.bottom() <= gap && a.box.top() - b.box.bottom() <= gap
                              : b.box.left() - a.box.right() <= gap && a.box.left() - b.box.right() <= gap;
}

/// Puts findings of one cause together; the worse one speaks.
std::vector<Finding> joined(const std::vector<Finding>& findings) {
  std::vector<Finding> kept;
  for (const Finding& finding : findings) {
    const auto one = std::ranges::find_if(kept, [&](const Finding& k) { return are_one(k, finding); });
    if (one == kept.end()) {
      kept.push_back(finding);
      continue;
    }
    const Rect box = united(one->box, finding.box), whole = united(one->whole, finding.whole);
    if (*finding.measured < *one->measured) *one = finding;
    one->box = box, one->whole = whole;
  }
  return kept;
}

Outcome check_bleed(const Page& page, const Job& job, const Limits& limits) {
  Outcome outcome;
  const Length tolerance = limits.length(cut_tolerance);
  const Length noise = Length::from_mm(measuring_px / page.placement.px_per_mm);
  for (const EdgeRun& run : edge_runs(page, tolerance)) {
    const bool reaches = run.beyond >= job.bleed.at(run.edge) - noise;
    const bool far_inside = run.beyond < -tolerance - noise;
    const bool paper_inside = is_paper(page.maps->surfaces.of(run.pixels.inner));
    if (reaches || far_inside || paper_inside || is_frame(page, run) || is_line_inside(page, run) ||
        is_text(page, run) || is_inside_picture(page, run, job, noise))
      continue;
    outcome.findings.push_back(finding_of(page, job, run));
  }
  outcome.findings = joined(outcome.findings);
  return outcome;
}

constexpr std::array<std::string_view, 3> kinds_of_bleed{"short-bleed", "sliver", "colour-differs-in-bleed"};

}  // namespace

const Check bleed_check{"bleed", limits_of_bleed, check_bleed, true, kinds_of_bleed};

}  // namespace frisket
