// safe-zone: does live matter (text, drawings, boxes, pictures) keep clear of the trim? Looked at for each
// thing that stands on a ground, and for grounds that bleed on one edge but end close inside another.
#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "checks/checks.hpp"
#include "checks/wording.hpp"
#include "page/edge_runs.hpp"
#include "page/ink_in_area.hpp"
#include "page/maps.hpp"

namespace frisket {
namespace {

constexpr std::array limits_of_safe_zone{
    LimitSpec{"safe", LimitKind::edges, 3.0, 0.0, 500.0, "how far live matter must stay inside the trim"},
};
constexpr const LimitSpec& safe_limit = limits_of_safe_zone[0];
/// Declared by the bleed check; read here because what ends so close to the trim is the bleed's affair.
constexpr LimitSpec cut_tolerance{"cut_tolerance", LimitKind::length, 1.5, 0.0, 20.0, ""};

constexpr Length review_up_to = Length::from_points(1.0);  // design: an intrusion of 1 pt or less
constexpr double measuring_px = 0.5;                       // positions are good to half a pixel
constexpr double frame_share = 0.3;  // of the trim's length, for a rule to be a frame's side
constexpr double hollow_ink = 0.25;  // share of its box that a frame covers at most
constexpr Length thin_rule = Length::from_mm(3.0);
constexpr Length narrow_border =
    Length::from_mm(3.0);  // twice the usual cutting tolerance: shows when uneven

Length distance_to_trim(const Rect& box, Edge edge, const Size& trim) {
  switch (edge) {
    case Edge::top:
      return box.top();
    case Edge::left:
      return box.left();
    case Edge::bottom:
      return trim.height - box.bottom();
    case Edge::right:
      return trim.width - box.right();
  }
  return {};
}

Length trim_length(Edge edge, const Size& trim) { return is_vertical(edge) ? trim.height : trim.width; }

/// Everything on the far side of the safe distance from `edge`.
Rect band_of(Edge edge, const Job& job) {
  const Length far = Length::from_mm(1000.0), safe = job.safe.at(edge);
  Rect band = Rect::from_sides(-far, -far, job.trim.width + far, job.trim.height + far);
  switch (edge) {
    case Edge::top:
      return Rect::from_sides(band.left(), band.top(), band.right(), safe);
    case Edge::bottom:
      return Rect::from_sides(band.left(), job.trim.height - safe, band.right(), band.bottom());
    case Edge::left:
      return Rect::from_sides(band.left(), band.top(), safe, band.bottom());
    case Edge::right:
      return Rect::from_sides(job.trim.width - safe, band.top(), band.right(), band.bottom());
  }
  return band;
}

/// Things that are judged as one: a line of text, a drawing of several parts, a single element.
struct Item {
  std::vector<int> members;  ///< elements
  Matter matter;
  Rect box;
  int block = -1;
  int parent = -1;
  bool touches_canvas = false;
  double ink = 1.0;
};

std::vector<Item> items_of(const Page& page) {
  std::vector<Item> items;
  for (const TextLine& line : page.lines) {
    Item item{line.letters, Matter::text, line.box, line.block, line.parent};
    for (const int letter : line.letters)
      item.touches_canvas |= page.elements[static_cast<std::size_t>(letter)].touches_canvas;
    items.push_back(std::move(item));
  }
  for (const std::vector<int>& drawing : page.drawings) {
    const Element& first = page.elements[static_cast<std::size_t>(drawing.front())];
    Item item{drawing, first.matter, {}, -1, first.parent, first.touches_canvas, first.ink};
    for (const int part : drawing)
      item.box = united(item.box, page.elements[static_cast<std::size_t>(part)].box);
    if (drawing.size() > 1) item.matter = Matter::drawing, item.ink = 1.0;
    items.push_back(std::move(item));
  }
  return items;
}

class SafeZone {
 public:
  SafeZone(const Page& page, const Job& job, const Limits& limits)
      : page_(page),
        job_(job),
        tolerance_(limits.length(cut_tolerance)),
        noise_(Length::from_mm(measuring_px / page.placement.px_per_mm)),
        runs_(edge_runs(page, widest_safe())) {}

  Outcome run() {
    add_guides();
    std::vector<Item> items = items_of(page_);
    std::ranges::stable_sort(items, {}, [&](const Item& i) { return depth_of(i.parent); });
    for (const Item& item : items) judge(item);
    for (const auto& [key, candidate] : merged_) outcome_.findings.push_back(candidate);
    for (const EdgeRun& run : runs_) judge_ground(run);
    return std::move(outcome_);
  }

 private:
  struct Intrusion {
    Edge edge;
    Length distance;
    Rect ink;
    std::optional<Edge> corner;  ///< the other edge that it stands for
  };

  Length widest_safe() const {
    return std::max({job_.safe.top, job_.safe.right, job_.safe.bottom, job_.safe.left});
  }

  int depth_of(int parent) const {
    int depth = 0;
    for (; parent >= 0; parent = page_.elements[static_cast<std::size_t>(parent)].parent) ++depth;
    return depth;
  }

  void add_guides() {
    for (const Guide& guide : page_.guides)
      if (guide.edge) outcome_.findings.push_back(guide_finding(guide));
  }

  Finding guide_finding(const Guide& guide) const {
    Finding finding;
    finding.kind = "guide-on-trim";
    finding.severity = Severity::fix;
    finding.box = guide_box(guide, job_.trim);
    finding.whole = finding.box;
    finding.edge = guide.edge;
    finding.measured =
        distance_to_trim({guide.position, guide.position, Length(), Length()}, *guide.edge, job_.trim);
    finding.required = job_.safe.at(*guide.edge);
    finding.message =
        "A thin line runs along the whole " + trim_edge_text(*guide.edge) + ": a guide line would print.";
    finding.advice = guide_advice;
    return finding;
  }

  bool wholly_outside_bleed(const Rect& box) const {
    const Rect bleed = grown({Length(), Length(), job_.trim.width, job_.trim.height}, job_.bleed);
    return intersection(box, bleed).empty();
  }

  bool ancestor_found(int parent, Edge edge) const {
    for (; parent >= 0; parent = page_.elements[static_cast<std::size_t>(parent)].parent)
      if (found_.contains({parent, edge})) return true;
    return false;
  }

  /// Does a straight side of the item lie so close to the trim, or past it, that it is a matter of bleed?
  bool is_bleeds_affair(const Item& item, Edge edge) const {
    if (item.matter == Matter::text) return false;
    return std::ranges::any_of(runs_, [&](const EdgeRun& run) {
      return run.edge == edge && run.beyond >= -tolerance_ - noise_ && run.element >= 0 &&
             std::ranges::find(item.members, run.element) != item.members.end();
    });
  }

  /// Reaches the canvas edge: it bleeds there.
  bool runs_off(const Item& item, Edge edge) const {
    if (!item.touches_canvas) return false;
    return std::ranges::any_of(item.members, [&](int member) {
      const PixelRect& box = page_.elements[static_cast<std::size_t>(member)].box_px;
      switch (edge) {
        case Edge::top:
          return box.y <= 1.0;
        case Edge::left:
          return box.x <= 1.0;
        case Edge::bottom:
          return box.bottom() >= page_.raster->height - 1.0;
        case Edge::right:
          return box.right() >= page_.raster->width - 1.0;
      }
      return false;
    });
  }

  void judge(const Item& item) {
    if (wholly_outside_bleed(item.box)) return;
    std::vector<Intrusion> intrusions;
    for (const Edge edge : all_edges) {
      const Length distance = distance_to_trim(item.box, edge, job_.trim);
      if (distance >= job_.safe.at(edge) - noise_ || ancestor_found(item.parent, edge)) continue;
      if (item.matter != Matter::text && runs_off(item, edge)) continue;
      if (is_bleeds_affair(item, edge)) continue;
      if (const auto ink = ink_in_area(page_, item.members, band_of(edge, job_)))
        intrusions.push_back({edge, distance, *ink, std::nullopt});
    }
    if (is_frame(item, intrusions))
      keep_worst(intrusions);
    else
      drop_corners(intrusions);
    for (const Intrusion& intrusion : intrusions) add(item, intrusion);
  }

  bool is_along(const Item& item, Edge edge) const {
    const Length length = is_vertical(edge) ? item.box.height : item.box.width;
    return length >= frame_share * trim_length(edge, job_.trim);
  }

  bool is_frame(const Item& item, const std::vector<Intrusion>& intrusions) const {
    return item.ink < hollow_ink && item.matter != Matter::text && !intrusions.empty() &&
           std::ranges::all_of(intrusions, [&](const Intrusion& i) {
             return is_along(item, i.edge) && i.distance > Length();
           });
  }

  bool is_rule_along(const Item& item, const Intrusion& intrusion) const {
    const Length thick = is_vertical(intrusion.edge) ? item.box.width : item.box.height;
    return item.matter != Matter::text && item.matter != Matter::picture && thick <= thin_rule &&
           is_along(item, intrusion.edge) && intrusion.distance > Length();
  }

  void keep_worst(std::vector<Intrusion>& intrusions) const {
    if (intrusions.empty()) return;
    const Intrusion worst = *std::ranges::min_element(intrusions, {}, &Intrusion::distance);
    intrusions.assign(1, worst);
  }

  Length lacking(const Intrusion& i) const { return job_.safe.at(i.edge) - i.distance; }

  /// At a corner the same ink lies in two bands: the worse edge stands for both.
  void drop_corners(std::vector<Intrusion>& intrusions) const {
    for (std::size_t a = 0; a < intrusions.size(); ++a)
      for (std::size_t b = a + 1; b < intrusions.size();) {
        const Rect both = intersection(intrusions[a].ink, intrusions[b].ink);
        const auto area = [](const Rect& r) { return r.width.mm() * r.height.mm(); };
        if (area(both) < 0.5 * std::min(area(intrusions[a].ink), area(intrusions[b].ink))) {
          ++b;
          continue;
        }
        if (lacking(intrusions[b]) > lacking(intrusions[a])) std::swap(intrusions[a], intrusions[b]);
        intrusions[a].ink = united(intrusions[a].ink, intrusions[b].ink);
        intrusions[a].corner = intrusions[b].edge;
        intrusions.erase(intrusions.begin() + static_cast<std::ptrdiff_t>(b));
      }
  }

  std::string_view kind_of(const Item& item, const Intrusion& intrusion) const {
    if (is_frame(item, {intrusion}) || is_rule_along(item, intrusion)) return "frame-near-trim";
    if (intrusion.distance <= noise_) return "matter-cut";
    if (item.matter == Matter::text) return "text-in-band";
    return item.matter == Matter::picture ? "picture-in-band" : "drawing-in-band";
  }

  void add(const Item& item, const Intrusion& intrusion) {
    for (const int member : item.members) found_.insert({member, intrusion.edge});
    Finding finding;
    finding.kind = kind_of(item, intrusion);
    finding.box = intrusion.ink;
    finding.whole = item.box;
    finding.edge = intrusion.edge;
    finding.measured = intrusion.distance;
    finding.required = job_.safe.at(intrusion.edge);
    // Lines of one block that intrude by the same edge become one finding, whichever of them comes first.
    const int group = item.matter == Matter::text ? item.block : -1 - next_single_++;
    const Key key{group, intrusion.edge, item.matter, intrusion.corner};
    const auto [at, fresh] = merged_.try_emplace(key, finding);
    if (!fresh) {
      at->second.box = united(at->second.box, finding.box);
      at->second.whole = united(at->second.whole, finding.whole);
      at->second.measured = std::min(*at->second.measured, *finding.measured);
      if (finding.kind == "matter-cut") at->second.kind = finding.kind;
    }
    ++lines_[key];
    word(at->second, item.matter, lines_[key]);
  }

  void word(Finding& finding, Matter matter, int lines) const {
    const Length lack = *finding.required - *finding.measured;
    const std::string subject =
        finding.kind == "frame-near-trim" ? "Frame or rule" : subject_text(matter, lines);
    const std::string verb = subject.ends_with(',') ? "are " : "is ";
    finding.severity = lack <= review_up_to + noise_ / 10.0 ? Severity::review : Severity::fix;
    const std::string move =
        "Move it " + std::string(inwards_text(*finding.edge)) + " by " + with_points(lack, job_.unit);
    if (finding.kind == "frame-near-trim") {
      finding.severity = Severity::review;
      finding.message = subject + " runs " + to_text(*finding.measured, job_.unit) + " inside the " +
                        trim_edge_text(*finding.edge) + ": the cutting tolerance will make it look uneven.";
      finding.advice = move + ", or let it bleed.";
    } else if (finding.kind == "matter-cut") {
      const bool past = *finding.measured < -noise_;
      finding.message = subject +
                        (past ? " runs " + to_text(-*finding.measured, job_.unit) + " past the "
                              : std::string(" touches the ")) +
                        trim_edge_text(*finding.edge) + ": it will be cut.";
      finding.advice = move + ".";
    } else {
      finding.message = subject + " " + verb + to_text(*finding.measured, job_.unit) + " from the " +
                        trim_edge_text(*finding.edge) + "; keep " +
                        to_exact_text(*finding.required, job_.unit) + ".";
      finding.advice = move + (matter == Matter::text ? "." : ", or let it bleed.");
    }
  }

  /// A ground that bleeds on another edge but ends in the band of this one.
  void judge_ground(const EdgeRun& run) {
    const Length distance = -run.beyond, safe = job_.safe.at(run.edge);
    if (run.element >= 0 || distance <= tolerance_ || distance >= safe - noise_) return;
    const Surface &outer = page_.maps->surfaces.of(run.pixels.outer),
                  &inner = page_.maps->surfaces.of(run.pixels.inner);
    if (!inner.bleeds || !outer.bleeds) return;
    const bool border = !is_paper(outer);
    if (border && (!run.outer_confined || distance > narrow_border)) return;
    Finding finding;
    finding.kind = border                                 ? "frame-near-trim"
                   : inner.kind == Surface::Kind::picture ? "picture-in-band"
                                                          : "drawing-in-band";
    finding.edge = run.edge;
    finding.measured = distance;
    finding.required = safe;
    finding.box = band_part(run, distance, safe);
    finding.whole = border ? finding.box
                           : page_.placement.rect_of({double(inner.box.x), double(inner.box.y),
                                                      double(inner.box.width), double(inner.box.height)});
    word(finding, inner.kind == Surface::Kind::picture ? Matter::picture : Matter::field, 1);
    outcome_.findings.push_back(std::move(finding));
  }

  Rect band_part(const EdgeRun& run, Length from, Length to) const {
    switch (run.edge) {
      case Edge::top:
        return Rect::from_sides(run.from, from, run.to, to);
      case Edge::bottom:
        return Rect::from_sides(run.from, job_.trim.height - to, run.to, job_.trim.height - from);
      case Edge::left:
        return Rect::from_sides(from, run.from, to, run.to);
      case Edge::right:
        return Rect::from_sides(job_.trim.width - to, run.from, job_.trim.width - from, run.to);
    }
    return {};
  }

  struct Key {
    int group;
    Edge edge;
    Matter matter;
    std::optional<Edge> corner;
    auto operator<=>(const Key&) const = default;
  };

  const Page& page_;
  const Job& job_;
  Length tolerance_, noise_;
  std::vector<EdgeRun> runs_;
  std::set<std::pair<int, Edge>> found_;  ///< elements already reported, by edge
  std::map<Key, Finding> merged_;
  std::map<Key, int> lines_;
  int next_single_ = 0;
  Outcome outcome_;
};

Outcome check_safe_zone(const Page& page, const Job& job, const Limits& limits) {
  return SafeZone(page, job, limits).run();
}

}  // namespace

const Check safe_zone_check{"safe-zone", limits_of_safe_zone, check_safe_zone};

}  // namespace frisket
