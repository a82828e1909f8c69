#include <algorithm>
#include <cmath>

#include "frisket/report.hpp"
#include "report/overlay_marks.hpp"
#include "report/overlay_strip.hpp"
#include "report/overlay_style.hpp"

namespace frisket {
namespace {

constexpr double arrow_length = 8, arrow_half = 2.4;  ///< slender, about 3 : 1, as on a drawing
constexpr double arrows_fit = 32;  ///< a dimension at least this long has its arrows inside
constexpr double tail = 17;        ///< the line behind an arrow that stands outside

/// A pale edge under a line, so that it stands out on any ground.
void line_with_edge(Svg& svg, Spot from, Spot to, const Stroke& stroke) {
  svg.line(from, to, {palette::paper, stroke.width + 1.6, ""});
  svg.line(from, to, stroke);
}

void box_with_edge(Svg& svg, const PixelRect& box, const Stroke& stroke) {
  svg.box(box, {palette::paper, stroke.width + 1.6, ""});
  svg.box(box, stroke);
}

/// The job's lines over one page.
class JobLines {
 public:
  JobLines(Svg& svg, const Report& report, double scale)
      : svg_(svg), report_(report), scale_(scale), page_(overlay_page(report, scale)) {}

  void draw() {
    const Job& job = report_.job;
    const Rect trim{{}, {}, job.trim.width, job.trim.height};
    const Edges& safe = job.safe;
    group("bleed", grown(trim, job.bleed), bleed_stroke, job.bleed != Edges{});
    group("safe-zone", grown(trim, {-safe.top, -safe.right, -safe.bottom, -safe.left}), safe_stroke,
          safe != Edges{});
    draw_folds(job.layout(report_.page.side));
    group("trim", trim, trim_stroke, true);
  }

 private:
  void group(std::string_view id, const Rect& rect, const Stroke& stroke, bool wanted) {
    if (!wanted) return;
    svg_.open_group(id);
    box_with_edge(svg_, on_page(rect, stroke.width), stroke);
    svg_.close_group();
  }

  /// In overlay pixels, held within the page so that a line along its edge is seen whole.
  PixelRect on_page(const Rect& rect, double stroke_width) const {
    const PixelRect px = report_.to_pixels(rect);
    const double inset = stroke_width / 2;
    const auto held = [&](double at, double end) {
      return std::clamp(at * scale_, std::min(inset, end / 2), std::max(end - inset, end / 2));
    };
    const double left = held(px.x, page_.width), top = held(px.y, page_.height);
    return {left, top, held(px.right(), page_.width) - left, held(px.bottom(), page_.height) - top};
  }

  void draw_folds(const SideLayout& layout) {
    if (layout.folds.empty() && layout.folds_y.empty()) return;
    svg_.open_group("folds");
    const Size& trim = report_.job.trim;
    const Edges& bleed = report_.job.bleed;
    for (const Length fold : layout.folds) {
      const PixelRect px = on_page(Rect::from_sides(fold, -bleed.top, fold, trim.height + bleed.bottom), 0);
      line_with_edge(svg_, {px.x, px.y}, {px.x, px.bottom()}, fold_stroke);
    }
    for (const Length fold : layout.folds_y) {
      const PixelRect px = on_page(Rect::from_sides(-bleed.left, fold, trim.width + bleed.right, fold), 0);
      line_with_edge(svg_, {px.x, px.y}, {px.right(), px.y}, fold_stroke);
    }
    svg_.close_group();
  }

  Svg& svg_;
  const Report& report_;
  double scale_;
  OverlayPage page_;
};

void draw_boxes(Svg& svg, const Mark& mark) {
  const Stroke stroke = severity_stroke(mark.severity);
  if (mark.whole && mark.whole != mark.box) svg.box(*mark.whole, {stroke.colour, 1, "2 3"});
  svg.filled_box(*mark.box, stroke.colour, 0.12);
  box_with_edge(svg, *mark.box, stroke);
}

/// An arrow head with its tip at `tip` along the measured axis, pointing up it (`direction` 1) or down it
/// (-1).
void draw_arrow(Svg& svg, const Dimension& dimension, double tip, double direction, std::string_view colour) {
  const double base = tip - direction * arrow_length;
  svg.polygon({dimension.spot(tip, dimension.across), dimension.spot(base, dimension.across - arrow_half),
               dimension.spot(base, dimension.across + arrow_half)},
              colour, {colour, 0.5, ""});
}

void draw_extensions(Svg& svg, const Dimension& dimension, const Stroke& stroke) {
  const double outwards = dimension.across >= dimension.box_end ? 1 : -1;
  line_with_edge(svg, dimension.spot(dimension.ink, dimension.box_end),
                 dimension.spot(dimension.ink, dimension.across + 6 * outwards), stroke);
  line_with_edge(svg, dimension.spot(dimension.reference, dimension.across - 8),
                 dimension.spot(dimension.reference, dimension.across + 8), stroke);
}

void draw_dimension(Svg& svg, const Dimension& dimension, std::string_view colour) {
  const Stroke stroke{colour, 1, ""};
  draw_extensions(svg, dimension, stroke);
  const double direction = dimension.ink >= dimension.reference ? 1 : -1;
  const bool inside = std::abs(dimension.ink - dimension.reference) >= arrows_fit;
  const double overhang = inside ? 0 : direction * tail;
  line_with_edge(svg, dimension.spot(dimension.reference - overhang, dimension.across),
                 dimension.spot(dimension.ink + overhang, dimension.across), stroke);
  draw_arrow(svg, dimension, dimension.reference, inside ? -direction : direction, colour);
  draw_arrow(svg, dimension, dimension.ink, inside ? direction : -direction, colour);
}

/// The nearest place of `area` to `spot`.
Spot nearest(const PixelRect& area, Spot spot) {
  return {std::clamp(spot.x, area.x, area.right()), std::clamp(spot.y, area.y, area.bottom())};
}

/// From a tag that could not stand beside its place, to that place.
void draw_leader(Svg& svg, const Mark& mark, std::string_view colour) {
  const Spot end = nearest(*mark.tag, mark.anchor);
  if (std::hypot(end.x - mark.anchor.x, end.y - mark.anchor.y) > 14)
    line_with_edge(svg, mark.anchor, end, {colour, 1, ""});
}

void draw_tag(Svg& svg, const Mark& mark, std::string_view colour) {
  const double badge = badge_width(mark.number);
  const PixelRect& tag = *mark.tag;
  if (!mark.label.empty()) {
    const PixelRect plate{tag.x + badge / 2, tag.y + 1, tag.width - badge / 2 - 1, tag.height - 2};
    svg.filled_box(plate, palette::paper, 1, 3);
    svg.box(plate, {colour, 1, ""}, 3);
    svg.text({tag.x + badge + 4, tag.y + tag.height / 2 + label_type.size * 0.36}, mark.label, label_type,
             palette::black);
  }
  draw_badge(svg, {tag.x + badge / 2, tag.y + tag.height / 2}, mark.number, mark.severity);
}

/// In layers, so that no box covers a dimension line and nothing covers a tag.
void draw_marks(Svg& svg, const std::vector<Mark>& marks) {
  svg.open_group("findings");
  for (const Mark& mark : marks)
    if (mark.box) draw_boxes(svg, mark);
  for (const Mark& mark : marks)
    if (mark.dimension) draw_dimension(svg, *mark.dimension, severity_stroke(mark.severity).colour);
  for (const Mark& mark : marks)
    if (mark.tag) draw_leader(svg, mark, severity_stroke(mark.severity).colour);
  for (const Mark& mark : marks)
    if (mark.tag) draw_tag(svg, mark, severity_stroke(mark.severity).colour);
  svg.close_group();
}

}  // namespace

void draw_layers(Svg& svg, const Report& report, const std::vector<Mark>& marks, double scale) {
  if (report.trim_px.width > 0) JobLines(svg, report, scale).draw();
  draw_marks(svg, marks);
}

std::string overlay_svg(const Report& report, double scale) {
  const OverlayPage page = overlay_page(report, scale);
  const double width = strip_width(page.width);
  const std::vector<Mark> marks = lay_out_marks(report, scale);

  Svg trial(width, 1);  // the document's height must be known before it is opened
  const double strip = draw_strip(trial, report, marks, page.height, width);

  Svg svg(width, std::ceil(page.height + strip));
  svg.open_group("page", std::floor((width - page.width) / 2));
  draw_layers(svg, report, marks, scale);
  svg.close_group();
  svg.open_group("strip");
  draw_strip(svg, report, marks, page.height, width);
  svg.close_group();
  return svg.finish();
}

}  // namespace frisket
