#include "report/overlay_marks.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "report/measure.hpp"
#include "report/overlay_style.hpp"

namespace frisket {
namespace {

constexpr double gap = 12;        ///< overlay pixels between a box and its dimension line
constexpr double reach = 20;      ///< how far the arrows of a short dimension stand out on either side
constexpr double least_box = 4;   ///< width and height that every box is drawn with at least
constexpr double page_inset = 2;  ///< tags keep this far inside the page and apart from each other

PixelRect scaled(const PixelRect& canvas, double scale) {
  return {canvas.x * scale, canvas.y * scale, canvas.width * scale, canvas.height * scale};
}

/// A hairline is drawn as a narrow box: one without width would not be seen.
PixelRect visible(const PixelRect& box) {
  const double more_x = std::max(0.0, least_box - box.width), more_y = std::max(0.0, least_box - box.height);
  return {box.x - more_x / 2, box.y - more_y / 2, box.width + more_x, box.height + more_y};
}

inline bool touch(const PixelRect& a, const PixelRect& b, double margin = 0) {
  return a.x < b.right() + margin && b.x < a.right() + margin && a.y < b.bottom() + margin &&
         b.y < a.bottom() + margin;
}

double shared_area(const PixelRect& a, const PixelRect& b) {
  const double width = std::min(a.right(), b.right()) - std::max(a.x, b.x);
  const double height = std::min(a.bottom(), b.bottom()) - std::max(a.y, b.y);
  return width > 0 && height > 0 ? width * height : 0;
}

/// The room that a dimension with its arrows takes.
PixelRect room_of(const Dimension& dimension) {
  const double from = std::min(dimension.reference, dimension.ink) - reach;
  const double to = std::max(dimension.reference, dimension.ink) + reach;
  const Spot corner = dimension.spot(from, dimension.across - 5);
  return dimension.along_x ? PixelRect{corner.x, corner.y, to - from, 10}
                           : PixelRect{corner.x, corner.y, 10, to - from};
}

/// Lays out marks one after the other, each keeping clear of those before it.
class Layout {
 public:
  Layout(const Report& report, double scale)
      : report_(report),
        scale_(scale),
        page_(overlay_page(report, scale)),
        tags_(strip_at(page_.height) + 1) {}

  std::vector<Mark> run() {
    for (const Finding& finding : report_.findings) marks_.push_back(outlined(finding));
    for (std::size_t i = 0; i < marks_.size(); ++i) add_dimension(marks_[i], report_.findings[i]);
    for (const Mark& mark : marks_)
      hidden_.push_back({mark.box, mark.dimension ? std::optional(room_of(*mark.dimension)) : std::nullopt});
    for (Mark& mark : marks_) {
      if (mark.box) mark.tag = best_tag(mark);
      if (mark.tag) keep(*mark.tag);
    }
    return std::move(marks_);
  }

 private:
  std::optional<PixelRect> overlay_box(const Rect& rect) const {
    if (report_.px_per_mm <= 0 || (rect.width <= Length() && rect.height <= Length())) return std::nullopt;
    const PixelRect box = visible(scaled(report_.to_pixels(rect), scale_));
    if (!std::isfinite(box.right()) || !std::isfinite(box.bottom())) return std::nullopt;
    const double left = std::clamp(box.x, 0.0, page_.width), top = std::clamp(box.y, 0.0, page_.height);
    return PixelRect{left, top, std::clamp(box.right(), 0.0, page_.width) - left,
                     std::clamp(box.bottom(), 0.0, page_.height) - top};
  }

  Mark outlined(const Finding& finding) const {
    Mark mark;
    mark.number = std::to_string(marks_.size() + 1);
    mark.severity = finding.accepted ? Severity::note : finding.severity;  // drawn lighter
    mark.box = overlay_box(finding.box);
    mark.whole = overlay_box(finding.whole);
    mark.label = measured_text(finding, report_.job.unit);
    if (mark.box) mark.anchor = {mark.box->right(), mark.box->y};
    return mark;
  }

  double overlay_position(bool along_x, Length at) const {
    const double origin = along_x ? report_.trim_px.x : report_.trim_px.y;
    return (origin + at.mm() * report_.px_per_mm) * scale_;
  }

  void add_dimension(Mark& mark, const Finding& finding) {
    const std::optional<Measure> measure = measure_of(finding, report_);
    if (!mark.box || !measure) return;
    Dimension dimension;
    dimension.along_x = measure->along_x;
    dimension.reference = overlay_position(measure->along_x, measure->reference);
    dimension.ink = overlay_position(measure->along_x, measure->ink);
    if (!std::isfinite(dimension.reference) || !std::isfinite(dimension.ink)) return;
    place_across(dimension, mark, finding.check == "bleed");
    mark.dimension = dimension;
    const Spot middle = dimension.spot((dimension.reference + dimension.ink) / 2, dimension.across);
    mark.anchor = {std::clamp(middle.x, 0.0, page_.width), std::clamp(middle.y, 0.0, page_.height)};
  }

  /// Beside the box, as a draughtsman would; over its middle where it is a run of bleed, which may be as long
  /// as the page, or where there is no room beside it.
  void place_across(Dimension& dimension, const Mark& mark, bool prefer_middle) const {
    const PixelRect& box = *mark.box;
    const double low = dimension.along_x ? box.y : box.x;
    const double high = dimension.along_x ? box.bottom() : box.right();
    const double limit = dimension.along_x ? page_.height : page_.width;
    struct Choice {
      double across, box_end, cost;
    };
    std::array<Choice, 3> choices{
        {{high + gap, high, 0}, {low - gap, low, 1}, {(low + high) / 2, (low + high) / 2, 2}}};
    if (prefer_middle) std::rotate(choices.begin(), choices.begin() + 2, choices.end());
    double least = std::numeric_limits<double>::max();
    for (const Choice& choice : choices) {
      Dimension candidate = dimension;
      candidate.across = choice.across;
      candidate.box_end = choice.box_end;
      const bool off_page = choice.across < 6 || choice.across > limit - 6;
      const double cost =
          (prefer_middle ? 0 : choice.cost) + (off_page ? 1e6 : 0) + crowding(candidate, mark);
      if (cost < least) least = cost, dimension = candidate;
    }
  }

  /// How many other boxes and dimension lines a dimension would run into.
  double crowding(const Dimension& dimension, const Mark& mark) const {
    const PixelRect room = room_of(dimension);
    double count = 0;
    for (const Mark& other : marks_) {
      if (&other == &mark) continue;
      if (other.box && touch(room, *other.box)) count += 10;
      if (other.dimension && touch(room, room_of(*other.dimension))) count += 20;
    }
    return count;
  }

  /// The cheapest place round the anchor, searched ring by ring outwards; near and clear of ink is cheap.
  std::optional<PixelRect> best_tag(const Mark& mark) const {
    const double label = mark.label.empty() ? 0 : text_width(mark.label, label_type) + 10;
    const double width = badge_width(mark.number) + label;
    const double farthest = std::hypot(page_.width, page_.height);
    constexpr int directions = 24;
    std::optional<PixelRect> best;
    double least = std::numeric_limits<double>::max();
    for (double radius = 9; radius < farthest && radius < least; radius += 6) {
      for (int i = 0; i < directions; ++i) {
        const double angle = 2 * M_PI * i / directions;
        const PixelRect tag = {
            mark.anchor.x + std::cos(angle) * (radius + width / 2) - width / 2,
            mark.anchor.y + std::sin(angle) * (radius + badge_height / 2) - badge_height / 2, width,
            badge_height};
        if (!is_free(tag)) continue;
        const double cost = radius + hidden_by(tag, mark, least - radius);
        if (cost < least) least = cost, best = tag;
      }
    }
    return best;
  }

  bool is_free(const PixelRect& tag) const {
    if (tag.x < page_inset || tag.y < page_inset || tag.right() > page_.width - page_inset ||
        tag.bottom() > page_.height - page_inset)
      return false;
    const auto is_in_the_way = [&](const PixelRect& other) { return touch(tag, other, page_inset); };
    for (std::size_t strip = strip_at(tag.y); strip <= strip_at(tag.bottom()); ++strip)
      if (std::ranges::any_of(tags_[strip], is_in_the_way)) return false;
    return true;
  }

  /// Keeps a tag in all strips of the page from which it may be in the way.
  void keep(const PixelRect& tag) {
    for (std::size_t strip = strip_at(tag.y - page_inset); strip <= strip_at(tag.bottom() + page_inset);
         ++strip)
      tags_[strip].push_back(tag);
  }

  std::size_t strip_at(double y) const {
    constexpr double height = 24;  // about that of a tag
    return static_cast<std::size_t>(std::clamp(y, 0.0, page_.height) / height);
  }

  /// The price of what a tag would hide: its own dimension line most of all, then those of others, then ink.
  /// More than `most` is not reckoned to its end.
  double hidden_by(const PixelRect& tag, const Mark& mark, double most) const {
    const auto own = static_cast<std::size_t>(&mark - marks_.data());
    double cost = 0;
    for (std::size_t i = 0; i < hidden_.size() && cost < most; ++i) {
      if (hidden_[i].box) cost += 40 * shared_area(tag, *hidden_[i].box) / (tag.width * tag.height);
      if (hidden_[i].room && touch(tag, *hidden_[i].room)) cost += i == own ? 120 : 60;
    }
    return cost;
  }

  /// What a mark has drawn that a tag would hide.
  struct Hidden {
    std::optional<PixelRect> box, room;
  };

  const Report& report_;
  double scale_;
  OverlayPage page_;
  std::vector<Mark> marks_;
  std::vector<Hidden> hidden_;                ///< by mark
  std::vector<std::vector<PixelRect>> tags_;  ///< that have their places, by strip of the page
};

}  // namespace

OverlayPage overlay_page(const Report& report, double scale) {
  return {std::max(1.0, std::round(report.width_px * scale)),
          std::max(1.0, std::round(report.height_px * scale))};
}

std::vector<Mark> lay_out_marks(const Report& report, double scale) { return Layout(report, scale).run(); }

}  // namespace frisket
