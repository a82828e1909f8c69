// safe-zone: does live matter (text, drawings, boxes, pictures) keep clear of the trim? Looked at for each
// thing that stands on a ground, and for grounds that bleed on one edge but end close inside another.
#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <set>
#include <utility>

#include "checks/checks.hpp"
#include "checks/safe_zone_words.hpp"
#include "checks/wording.hpp"
#include "page/edge_runs.hpp"
#include "page/ink_in_area.hpp"
#include "page/live_matter.hpp"
#include "page/maps.hpp"
#include "page/stretches.hpp"
#include "page/zones/box_grid.hpp"

namespace frisket {
namespace {

constexpr std::array limits_of_safe_zone{
    LimitSpec{"safe", LimitKind::edges, 3.0, 0.0, 500.0, "how far live matter must stay inside the trim"},
};

constexpr double measuring_px = 0.5;  // positions are good to half a pixel
constexpr double frame_share = 0.3;   // of the trim's length, for a rule to be a frame's side
constexpr double hollow_ink = 0.25;   // share of its box that a frame covers at most
constexpr Length thin_rule = Length::from_mm(3.0);
constexpr Length speck = Length::from_mm(2.0);  // side of a dot or star that may be one of a scatter
constexpr int scatter = 3;                      // so many of them at one edge are told together
constexpr Length narrow_border =
    Length::from_mm(3.0);  // twice the usual cutting tolerance: shows when uneven

Length trim_length(Edge edge, const Size& trim) { return is_vertical(edge) ? trim.height : trim.width; }

/// Everything on the far side of the safe distance from `edge`.
Rect band_of(Edge edge, const Job& job) {
  const Length far = Length::from_mm(1000.0);
  return along_edge(edge, job.trim, -far, job.safe.at(edge), -far, trim_length(edge, job.trim) + far);
}

class SafeZone {
 public:
  SafeZone(const Page& page, const Job& job, const Limits& limits)
      : page_(page),
        job_(job),
        tolerance_(limits.length(cut_tolerance)),
        noise_(Length::from_mm(measuring_px / page.placement.px_per_mm)),
        words_{job, tolerance_, noise_},
        runs_(edge_runs(page, widest_safe())) {}

  Outcome run() {
    add_guides();
    const std::vector<LiveMatter> items = live_matter(page_);
    for (const LiveMatter& item : items) judge(item);
    for (const Edge edge : all_edges) tell(edge);
    for (const EdgeRun& run : runs_) judge_ground(run);
    if (!page_.strewn.empty()) outcome_.findings.push_back(strewn_finding());
    return std::move(outcome_);
  }

 private:
  struct Intrusion {
    Edge edge;
    Length distance;
    Rect ink;
    std::optional<SecondEdge> corner;  ///< the other edge that it stands for
  };

  struct Intruder {
    const LiveMatter* item;
    Intrusion intrusion;
    std::string_view kind;
  };

  struct Key {
    int group;  ///< a stretch of lines, or a thing by itself
    Matter matter;
    std::optional<Edge> corner;
    auto operator<=>(const Key&) const = default;
  };

  struct Told {
    Finding finding;
    Together lines;
  };

  Length widest_safe() const {
    return std::max({job_.safe.top, job_.safe.right, job_.safe.bottom, job_.safe.left});
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
        distance_inside({guide.position, guide.position, Length(), Length()}, *guide.edge, job_.trim);
    finding.required = job_.safe.at(*guide.edge);
    finding.message =
        "A thin line runs along the whole " + trim_edge_text(*guide.edge) + ": a guide line would print.";
    finding.advice = guide_advice;
    return finding;
  }

  /// Not measured is not passed: says that what is strewn was left to the knife, and shows the chip that runs
  /// farthest past the trim.
  Finding strewn_finding() const {
    Finding finding;
    finding.kind = "matter-cut";
    finding.severity = Severity::note;
    Length farthest = Length::from_mm(1000.0);
    for (const int member : page_.strewn) {
      const Rect& box = page_.elements[static_cast<std::size_t>(member)].box;
      finding.whole = united(finding.whole, box);
      for (const Edge edge : all_edges)
        if (const Length inside = distance_inside(box, edge, job_.trim); inside < farthest)
          farthest = inside, finding.box = box;
    }
    finding.message = "Small drawings, " + std::to_string(page_.strewn.size()) +
                      " of them, are strewn over the page and run off it: taken for a ground that bleeds.";
    finding.advice = "See that none of them has to stay whole: they were not measured.";
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

  static bool is_of(const EdgeRun& run, const LiveMatter& item) {
    return run.element >= 0 && std::ranges::find(item.members, run.element) != item.members.end();
  }

  /// Does a straight side of the item lie so close to the trim, or past it, that it is a matter of bleed?
  /// White ones do not bleed.
  bool is_bleeds_affair(const LiveMatter& item, Edge edge) const {
    if (item.matter == Matter::text) return false;
    return std::ranges::any_of(runs_, [&](const EdgeRun& run) {
      return run.edge == edge && run.beyond >= -tolerance_ - noise_ && is_of(run, item) &&
             !is_line_inside(page_, run) && !is_paper(page_.maps->surfaces.of(run.pixels.inner));
    });
  }

  /// Covers little of its box, or has a line for this side: then what fills it stands in a frame.
  bool is_hollow(const LiveMatter& item, Edge edge) const {
    return item.ink < hollow_ink || std::ranges::any_of(runs_, [&](const EdgeRun& run) {
             return run.edge == edge && is_of(run, item) && is_line_inside(page_, run) &&
                    run.to - run.from >= frame_share * trim_length(edge, job_.trim);
           });
  }

  /// A rectangle left on the trim is told as the guides that its sides are.
  bool is_side_on_guide(const LiveMatter& item, Edge edge, Length distance) const {
    return item.ink < hollow_ink && std::ranges::any_of(page_.guides, [&](const Guide& guide) {
             return guide.edge == edge && abs(distance) <= guide.width + Length::from_mm(0.5);
           });
  }

  /// Reaches the canvas edge: it bleeds there.
  bool runs_off(const LiveMatter& item, Edge edge) const {
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

  /// What bleeds and lies in the bleed alone is cut away with it.
  bool is_offcut(const LiveMatter& item) const {
    const Rect trim{Length(), Length(), job_.trim.width, job_.trim.height};
    return item.touches_canvas && item.matter != Matter::text && intersection(item.box, trim).empty();
  }

  void judge(const LiveMatter& item) {
    if (wholly_outside_bleed(item.box) || is_offcut(item)) return;
    std::vector<Intrusion> intrusions;
    for (const Edge edge : all_edges) {
      const Length distance = distance_inside(item.box, edge, job_.trim);
      if (distance >= job_.safe.at(edge) - noise_ || ancestor_found(item.parent, edge)) continue;
      // What bleeds off one edge is an ornament of the ground; only along another it can be a rule too close.
      if (item.matter != Matter::text && item.touches_canvas &&
          (runs_off(item, edge) || !is_along(item, edge)))
        continue;
      if (is_bleeds_affair(item, edge) || is_side_on_guide(item, edge, distance)) continue;
      if (const auto ink = ink_in_area(page_, item.members, band_of(edge, job_)))
        intrusions.push_back({edge, distance, *ink, std::nullopt});
    }
    if (is_frame(item, intrusions))
      keep_worst(intrusions);
    else
      drop_corners(intrusions);
    for (const Intrusion& intrusion : intrusions) add(item, intrusion);
  }

  bool is_along(const LiveMatter& item, Edge edge) const {
    const Length length = is_vertical(edge) ? item.box.height : item.box.width;
    return length >= frame_share * trim_length(edge, job_.trim);
  }

  bool is_frame(const LiveMatter& item, const std::vector<Intrusion>& intrusions) const {
    return item.matter != Matter::text && !intrusions.empty() &&
           std::ranges::all_of(intrusions, [&](const Intrusion& i) {
             return is_along(item, i.edge) && is_hollow(item, i.edge) && i.distance > Length();
           });
  }

  bool is_rule_along(const LiveMatter& item, const Intrusion& intrusion) const {
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
        if (area(both) < 0.5 * std::max(area(intrusions[a].ink), area(intrusions[b].ink))) {
          ++b;
          continue;
        }
        if (lacking(intrusions[b]) > lacking(intrusions[a])) std::swap(intrusions[a], intrusions[b]);
        intrusions[a].ink = united(intrusions[a].ink, intrusions[b].ink);
        intrusions[a].corner = SecondEdge{intrusions[b].edge, intrusions[b].distance};
        intrusions.erase(intrusions.begin() + static_cast<std::ptrdiff_t>(b));
      }
  }

  std::string_view kind_of(const LiveMatter& item, const Intrusion& intrusion) const {
    if (is_frame(item, {intrusion}) || is_rule_along(item, intrusion)) return "frame-near-trim";
    if (intrusion.distance <= noise_) return "matter-cut";
    if (item.matter == Matter::text) return "text-in-band";
    return item.matter == Matter::picture ? "picture-in-band" : "drawing-in-band";
  }

  void add(const LiveMatter& item, const Intrusion& intrusion) {
    const std::string_view kind = kind_of(item, intrusion);
    // What a frame encloses is judged for itself; what stands on a box moves with it.
    if (kind != "frame-near-trim")
      for (const int member : item.members) found_.insert({member, intrusion.edge});
    intruders_[intrusion.edge].push_back({&item, intrusion, kind});
  }

  static bool is_speck(const Intruder& intruder) {
    const Rect& box = intruder.item->box;
    return intruder.item->matter == Matter::drawing && std::max(box.width, box.height) <= speck;
  }

  /// All that intrudes by one edge. Lines of a block that follow one another become one finding, and so does
  /// a scatter of dots.
  void tell(Edge edge) {
    std::vector<bool> is_told(page_.lines.size());
    for (const Intruder& intruder : intruders_[edge])
      if (intruder.item->line >= 0) is_told[static_cast<std::size_t>(intruder.item->line)] = true;
    const std::vector<int> stretch_of = stretches(page_, is_told);
    std::map<Key, Told> told;
    const bool scattered = std::ranges::count_if(intruders_[edge], is_speck) >= scatter;
    int next_single = 0;
    for (const Intruder& intruder : intruders_[edge]) {
      const auto& [item, intrusion, kind] = intruder;
      const int group = item->line >= 0                   ? stretch_of[static_cast<std::size_t>(item->line)]
                        : scattered && is_speck(intruder) ? -1
                                                          : -2 - next_single++;
      const auto& corner = intrusion.corner;
      const Key key{group, item->matter, corner ? std::optional(corner->edge) : std::nullopt};
      const auto [at, fresh] = told.try_emplace(key, Told{finding_of(*item, intrusion, kind), {}});
      auto& [finding, lines] = at->second;
      if (!fresh) join(finding, item->box, intrusion.ink, intrusion.distance, kind);
      ++lines.count;
      if (corner && (!lines.corner || corner->distance < lines.corner->distance)) lines.corner = corner;
      words_.say(finding, item->matter, lines);
    }
    join_overlapping(told);
    for (auto& [key, one] : told) outcome_.findings.push_back(std::move(one.finding));
  }

  /// A line that lies among lines of another block has been read apart from them: it is told with them.
  void join_overlapping(std::map<Key, Told>& told) const {
    std::vector<std::map<Key, Told>::iterator> texts;
    std::vector<PixelRect> boxes;
    for (auto at = told.begin(); at != told.end(); ++at)
      if (at->first.matter == Matter::text)
        texts.push_back(at), boxes.push_back(page_.placement.pixels_of(at->second.finding.whole));
    const BoxGrid grid(boxes);
    for (std::size_t i = 0; i < texts.size(); ++i) {
      std::optional<std::size_t> among;
      grid.near(boxes[i], std::max(boxes[i].width, boxes[i].height) / 2, [&](int k) {
        const auto j = static_cast<std::size_t>(k);
        if (j != i && texts[j] != told.end() && (!among || j < *among) && lies_among(*texts[i], *texts[j]))
          among = j;
      });
      if (!among) continue;
      auto& [finding, lines] = texts[*among]->second;
      const auto& [part, its_lines] = texts[i]->second;
      join(finding, part.whole, part.box, *part.measured, part.kind);
      lines.count += its_lines.count;
      words_.say(finding, Matter::text, lines);
      told.erase(std::exchange(texts[i], told.end()));
    }
  }

  static bool lies_among(const std::pair<const Key, Told>& one, const std::pair<const Key, Told>& other) {
    constexpr double share = 0.8;  // of the smaller box: its last letters may stand out
    const auto area = [](const Rect& r) { return r.width.mm() * r.height.mm(); };
    const Rect &a = one.second.finding.whole, &b = other.second.finding.whole;
    return one.first.corner == other.first.corner && area(a) <= area(b) &&
           area(intersection(a, b)) >= share * area(a);
  }

  Finding finding_of(const LiveMatter& item, const Intrusion& intrusion, std::string_view kind) const {
    Finding finding;
    finding.kind = kind;
    finding.box = intrusion.ink;
    finding.whole = item.box;
    finding.edge = intrusion.edge;
    finding.measured = intrusion.distance;
    finding.required = job_.safe.at(intrusion.edge);
    return finding;
  }

  static void join(Finding& finding, const Rect& whole, const Rect& ink, Length distance,
                   std::string_view kind) {
    finding.box = united(finding.box, ink);
    finding.whole = united(finding.whole, whole);
    finding.measured = std::min(*finding.measured, distance);
    if (kind == "matter-cut") finding.kind = kind;
  }

  /// A ground that bleeds on another edge but ends in the band of this one.
  void judge_ground(const EdgeRun& run) {
    const Length distance = -run.beyond, safe = job_.safe.at(run.edge);
    if (run.element >= 0 || distance <= tolerance_ || distance >= safe - noise_) return;
    const Surface &outer = outer_surface(page_, run), &inner = page_.maps->surfaces.of(run.pixels.inner);
    if (!inner.bleeds || !outer.bleeds) return;
    const bool border = !is_paper(outer);
    if (border && (!run.outer_confined || distance > narrow_border || are_bands(outer, inner))) return;
    Finding finding;
    finding.kind = border                                 ? "frame-near-trim"
                   : inner.kind == Surface::Kind::picture ? "picture-in-band"
                                                          : "drawing-in-band";
    finding.edge = run.edge;
    finding.measured = distance;
    finding.required = safe;
    finding.box = along_edge(run.edge, job_.trim, distance, safe, run.from, run.to);
    finding.whole = border ? finding.box
                           : page_.placement.rect_of({double(inner.box.x), double(inner.box.y),
                                                      double(inner.box.width), double(inner.box.height)});
    words_.say(finding, inner.kind == Surface::Kind::picture ? Matter::picture : Matter::field, {.count = 1});
    outcome_.findings.push_back(std::move(finding));
  }

  const Page& page_;
  const Job& job_;
  Length tolerance_, noise_;
  SafeZoneWords words_;
  std::vector<EdgeRun> runs_;
  std::set<std::pair<int, Edge>> found_;  ///< elements already reported, by edge
  std::map<Edge, std::vector<Intruder>> intruders_;
  Outcome outcome_;
};

Outcome check_safe_zone(const Page& page, const Job& job, const Limits& limits) {
  return SafeZone(page, job, limits).run();
}

constexpr std::array<std::string_view, 6> kinds_of_safe_zone{
    "text-in-band", "drawing-in-band", "picture-in-band", "matter-cut", "frame-near-trim", "guide-on-trim"};

}  // namespace

const Check safe_zone_check{"safe-zone", limits_of_safe_zone, check_safe_zone, true, kinds_of_safe_zone};

}  // namespace frisket
