#include "report/closeup.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <vector>

#include "report/measure.hpp"
#include "report/overlay_style.hpp"
#include "report/svg.hpp"

namespace frisket {
namespace {

// The picture lies at the top left. Dimensions stand on clear paper beside it, as on a drawing: below it
// where they run across, to its right where they run down.
constexpr double below_width = 480, below_height = 270, strip_of_rows = 76;
constexpr double beside_width = 330, beside_height = 300, strip_of_columns = 164;
constexpr double least_pixels = 30;  ///< canvas pixels that a close-up shows at least, along its measure
const Length least_shown = Length::from_mm(7);
const Length sample = Length::from_mm(10);  ///< of a picture, in which its pixels are counted
constexpr double arrow_length = 9, arrow_half = 2.6, arrows_fit = 34, tail = 18;
constexpr Type note_type{13, false}, figure_type{13, true};
constexpr std::string_view ground = "#E4E1D8";    ///< ours: where there is no page
constexpr std::string_view safe_ink = "#00664A";  ///< the safe zone's green, dark enough for type

double position(const Rect& box, bool along_x) { return along_x ? box.x.mm() : box.y.mm(); }
double extent(const Rect& box, bool along_x) { return along_x ? box.width.mm() : box.height.mm(); }
double middle(const Rect& box, bool along_x) { return position(box, along_x) + extent(box, along_x) / 2; }

/// A line across the measure, and what it is called.
struct Limit {
  double at;  ///< millimetres along the measure
  Stroke stroke;
  std::string name;
};

/// Everything about a finding that lies along its measure, in millimetres.
struct Lie {
  bool along_x = true;
  std::optional<double> reference, ink;
  std::vector<Limit> lines;  ///< the trim or the fold, then the limit
  std::string measured, required;
};

Lie lie_of_sample(const Finding& finding) {
  Lie lie;
  const double centre = middle(finding.box, true), half = sample.mm() / 2;
  lie.reference = centre - half;
  lie.ink = centre + half;
  const auto counted = [](double ppi) { return std::lround(ppi * sample.inches()); };
  lie.measured = "10 mm";
  lie.required = std::to_string(counted(*finding.measured_ppi)) + " picture pixels";
  if (finding.required_ppi)
    lie.required += "; " + std::to_string(counted(*finding.required_ppi)) + " are asked for";
  return lie;
}

void add_limit(Lie& lie, const Finding& finding, const Report& report) {
  const double reference = *lie.reference, asked = finding.required->mm();
  const bool tolerance = finding.kind == "colour-break-off-fold";
  lie.required = to_exact_text(*finding.required, report.job.unit) + (tolerance ? " allowed" : " asked for");
  if (finding.fold) {
    const double side = middle(finding.box, lie.along_x) < reference ? -1 : 1;
    lie.lines.push_back({reference + side * asked, {palette::quiet, 1.2, "2 4"}, "limit"});
    return;
  }
  const bool far = finding.edge == Edge::right || finding.edge == Edge::bottom;
  const bool outwards = finding.check == "bleed";
  const double side = far == outwards ? 1 : -1;
  lie.lines.push_back(
      {reference + side * asked, outwards ? bleed_stroke : safe_stroke, outwards ? "bleed" : "safe zone"});
}

Lie lie_of(const Finding& finding, const Report& report) {
  Lie lie;
  if (finding.measured_ppi && finding.check == "resolution") return lie_of_sample(finding);
  const auto measure = measure_of(finding, report);
  if (!measure) return lie;
  lie.along_x = measure->along_x;
  lie.reference = measure->reference.mm();
  lie.ink = measure->ink.mm();
  lie.measured = measured_text(finding, report.job.unit);
  if (finding.fold)
    lie.lines.push_back({*lie.reference, fold_stroke, "fold " + std::to_string(*finding.fold)});
  else
    lie.lines.push_back({*lie.reference, trim_stroke, "trim"});
  const bool guide = finding.kind.starts_with("guide-");  // it is not to be there at all
  if (finding.required && !guide) add_limit(lie, finding, report);
  return lie;
}

struct Span {
  double from, to;
  double length() const { return to - from; }
};

/// What has to be seen along the measure: the lines, the ink's edge and some room on either side.
Span span_along(const Lie& lie, const Finding& finding, const Report& report) {
  Span span{middle(finding.box, lie.along_x), middle(finding.box, lie.along_x)};
  const auto hold = [&](double at) { span = {std::min(span.from, at), std::max(span.to, at)}; };
  if (lie.reference) hold(*lie.reference), hold(*lie.ink);
  for (const Limit& line : lie.lines) hold(line.at);
  if (!lie.reference) hold(position(finding.box, true)), hold(finding.box.right().mm());
  const double least = std::max(least_shown.mm(), least_pixels / report.px_per_mm);
  const double room = std::max(0.45 * span.length() + 1, (least - span.length()) / 2);
  return {span.from - room, span.to + room};
}

/// Draws one close-up. Job space in millimetres becomes units of the drawing.
class Drawing {
 public:
  Drawing(const Closeup& closeup, const Finding& finding, const Report& report, std::string_view label)
      : closeup_(closeup),
        finding_(finding),
        report_(report),
        lie_(lie_of(finding, report)),
        svg_(Svg::inlined(closeup.width + closeup.strip_beside, closeup.height + closeup.strip_below,
                          "class=\"closeup\" role=\"img\" aria-label=\"" + xml_escaped(label) + "\"")) {}

  std::string draw(const std::string& number, std::string_view reference, const PixelRect& picture_area) {
    svg_.filled_box({0, 0, closeup_.width + closeup_.strip_beside, closeup_.height + closeup_.strip_below},
                    palette::paper);
    draw_picture(reference, picture_area);
    if (lie_.reference) draw_dimensions();
    draw_badge(svg_, {badge_width(number) / 2 + 8, badge_height / 2 + 8}, number, finding_.severity);
    return svg_.finish();
  }

 private:
  PixelRect placed(const PixelRect& canvas) const {
    const double scale = closeup_.width / closeup_.area.width;
    return {(canvas.x - closeup_.area.x) * scale, (canvas.y - closeup_.area.y) * scale, canvas.width * scale,
            canvas.height * scale};
  }

  /// Where `mm` of job space lies along the measure, in units of the drawing.
  double along(double mm) const {
    const double origin =
        closeup_.along_x ? report_.trim_px.x - closeup_.area.x : report_.trim_px.y - closeup_.area.y;
    return (origin / report_.px_per_mm + mm) * closeup_.units_per_mm;
  }

  Spot spot(double along, double across) const {
    return closeup_.along_x ? Spot{along, across} : Spot{across, along};
  }

  void draw_picture(std::string_view reference, const PixelRect& picture_area) {
    // A nested viewport keeps what lies outside of the picture out of it.
    svg_.add("<svg width=\"" + std::to_string(static_cast<int>(closeup_.width)) + "\" height=\"" +
             std::to_string(static_cast<int>(closeup_.height)) + "\">\n");
    svg_.filled_box({0, 0, closeup_.width, closeup_.height}, ground);
    if (reference.starts_with('#'))
      draw_shared_picture(reference, picture_area);
    else
      svg_.picture(placed(picture_area), reference, coarse() ? "class=\"pixels\"" : "");
    draw_beyond();
    draw_ink();
    for (const Limit& line : lie_.lines) draw_line(line);
    for (std::size_t i = 0; i < lie_.lines.size(); ++i) draw_name(lie_.lines[i], i);
    svg_.add("</svg>\n");
    svg_.box({0.5, 0.5, closeup_.width - 1, closeup_.height - 1}, {palette::quiet, 1, ""});
  }

  void draw_shared_picture(std::string_view reference, const PixelRect& picture_area) {
    const PixelRect at = placed(picture_area);
    std::array<char, 200> transform{};
    std::snprintf(transform.data(), transform.size(), "translate(%.4f %.4f) scale(%.6f %.6f)", at.x, at.y,
                  at.width / picture_area.width, at.height / picture_area.height);
    svg_.add("<use href=\"" + std::string(reference) + "\" transform=\"" + transform.data() + "\"/>\n");
  }

  /// One pixel of the page is drawn so large that its square is to be seen.
  bool coarse() const { return closeup_.width / closeup_.area.width > 3; }

  PixelRect trim() const { return placed(report_.trim_px); }

  /// What the cut takes away, or what is not there at all, is paled and the edge of the trim shown.
  void draw_beyond() {
    const PixelRect page = trim();
    const double width = closeup_.width, height = closeup_.height;
    const double top = std::clamp(page.y, 0.0, height), bottom = std::clamp(page.bottom(), 0.0, height);
    const double left = std::clamp(page.x, 0.0, width), right = std::clamp(page.right(), 0.0, width);
    for (const PixelRect& part :
         {PixelRect{0, 0, width, top}, PixelRect{0, bottom, width, height - bottom},
          PixelRect{0, top, left, bottom - top}, PixelRect{right, top, width - right, bottom - top}})
      if (part.width > 0 && part.height > 0) svg_.filled_box(part, palette::paper, 0.45);
    // The trim that the measure does not start at is still worth seeing.
    svg_.box(page, {palette::paper, 3, ""});
    svg_.box(page, {palette::black, 1, ""});
  }

  void draw_ink() {
    PixelRect box = placed(report_.to_pixels(finding_.box));
    if (box.width < 1.5) box.x -= 1.5, box.width += 3;
    if (box.height < 1.5) box.y -= 1.5, box.height += 3;
    const Stroke stroke = severity_stroke(finding_.severity);
    svg_.box(box, {palette::paper, stroke.width + 1.6, ""});
    svg_.box(box, stroke);
    ink_ = box;
  }

  void draw_line(const Limit& line) {
    const double at = along(line.at), end = closeup_.along_x ? closeup_.height : closeup_.width;
    svg_.line(spot(at, 0), spot(at, end), {palette::paper, line.stroke.width + 2, ""});
    svg_.line(spot(at, 0), spot(at, end), line.stroke);
  }

  /// The name of a line on a plate, on the side of the line that faces away from the others.
  void draw_name(const Limit& line, std::size_t index) {
    const double width = text_width(line.name, note_type) + 10, height = 20;
    const double at = along(line.at);
    const bool first = lie_.lines.size() < 2 || line.at <= lie_.lines[1 - index].at;
    PixelRect plate;
    if (closeup_.along_x)
      plate = {first ? at - width - 4 : at + 4, closeup_.height - height - 6, width, height};
    else
      plate = {closeup_.width - width - 6, first ? at - height - 4 : at + 4, width, height};
    plate.x = std::clamp(plate.x, 2.0, closeup_.width - width - 2);
    plate.y = std::clamp(plate.y, 2.0, closeup_.height - height - 2);
    svg_.filled_box(plate, palette::paper, 0.92, 3);
    svg_.text({plate.x + 5, plate.y + 14.5}, line.name, note_type, palette::black);
  }

  void draw_dimensions() {
    const double edge = closeup_.along_x ? closeup_.height : closeup_.width;
    const double from = std::clamp(closeup_.along_x ? ink_.bottom() : ink_.right(), 0.0, edge - 24);
    const Stroke stroke = severity_stroke(finding_.severity);
    const double reference = along(*lie_.reference), ink = along(*lie_.ink);
    const double first = edge + 24, second = edge + (closeup_.along_x ? 54 : 90);
    const bool two = lie_.lines.size() > 1;
    extension(reference, lie_.lines.empty() ? from : edge, two ? second + 6 : first + 6);
    if (std::abs(ink - reference) > 0.5) extension(ink, from, first + 6);
    dimension(reference, ink, first, stroke.colour);
    caption(reference, ink, first, lie_.measured, figure_type, palette::black);
    if (lie_.lines.empty()) {
      if (!lie_.required.empty())
        svg_.text({closeup_.width / 2, second + 8}, lie_.required, note_type, palette::black, "middle");
      return;
    }
    if (!two) return;
    const double limit = along(lie_.lines[1].at);
    extension(limit, edge, second + 6);
    dimension(reference, limit, second, finding_.check == "safe-zone" ? safe_ink : palette::quiet);
    caption(reference, limit, second, lie_.required, note_type, palette::black);
  }

  void extension(double at, double from, double to) {
    svg_.line(spot(at, from), spot(at, to), {palette::paper, 2.6, ""});
    svg_.line(spot(at, from), spot(at, to), {palette::black, 0.9, ""});
  }

  void arrow(double tip, double across, double direction, std::string_view colour) {
    const double base = tip - direction * arrow_length;
    svg_.polygon({spot(tip, across), spot(base, across - arrow_half), spot(base, across + arrow_half)},
                 colour, {colour, 0.5, ""});
  }

  void dimension(double a, double b, double across, std::string_view colour) {
    const double direction = b >= a ? 1 : -1;
    const bool inside = std::abs(b - a) >= arrows_fit;
    const double overhang = inside ? 0 : direction * tail;
    svg_.line(spot(a - overhang, across), spot(b + overhang, across), {colour, 1.2, ""});
    arrow(a, across, inside ? -direction : direction, colour);
    arrow(b, across, inside ? direction : -direction, colour);
  }

  /// Words of a dimension: across, beyond the end that has more room; down, to the right of its middle, in
  /// two lines where they are long.
  void caption(double a, double b, double across, const std::string& words, const Type& type,
               std::string_view colour) {
    const double low = std::min(a, b) - (std::abs(b - a) < arrows_fit ? tail : 0) - 7;
    const double high = std::max(a, b) + (std::abs(b - a) < arrows_fit ? tail : 0) + 7;
    if (closeup_.along_x) {
      const double width = text_width(words, type);
      if (std::abs(b - a) > width + 40) {
        const double centre = (a + b) / 2;
        svg_.filled_box({centre - width / 2 - 5, across - 9, width + 10, 18}, palette::paper);
        svg_.text({centre, across + 4.6}, words, type, colour, "middle");
      } else if (high + width < closeup_.width) {
        svg_.text({high, across + 4.6}, words, type, colour);
      } else {
        svg_.text({low, across + 4.6}, words, type, colour, "end");
      }
      return;
    }
    const std::vector<std::string> lines = wrapped(words, type, 56);
    double y = std::clamp((a + b) / 2 + 4.6 - 8.0 * static_cast<double>(lines.size() - 1), 14.0,
                          closeup_.height - 16.0 * static_cast<double>(lines.size() - 1) - 6);
    for (const std::string& line : lines) svg_.text({across + 9, y}, line, type, colour), y += 16;
  }

  const Closeup& closeup_;
  const Finding& finding_;
  const Report& report_;
  Lie lie_;
  Svg svg_;
  PixelRect ink_;
};

}  // namespace

std::optional<Closeup> plan_closeup(const Finding& finding, const Report& report) {
  if (report.px_per_mm <= 0 || report.trim_px.width <= 0) return std::nullopt;
  if (finding.box.width <= Length() && finding.box.height <= Length()) return std::nullopt;
  const Lie lie = lie_of(finding, report);
  const double width = lie.along_x ? below_width : beside_width;
  const double height = lie.along_x ? below_height : beside_height;
  const double picture_along = lie.along_x ? width : height, picture_across = lie.along_x ? height : width;
  Span along = span_along(lie, finding, report);
  // Wide matter is shown whole where that makes it no smaller than half.
  const double wanted_across = extent(finding.box, !lie.along_x) * 1.15;
  const double grow = std::clamp(wanted_across / (along.length() * picture_across / picture_along), 1.0, 1.8);
  const double more = along.length() * (grow - 1) / 2;
  along = {along.from - more, along.to + more};
  const double across = along.length() * picture_across / picture_along;
  const double across_from = middle(finding.box, !lie.along_x) - across / 2;
  const auto mm = Length::from_mm;
  const Rect shown = lie.along_x ? Rect{mm(along.from), mm(across_from), mm(along.length()), mm(across)}
                                 : Rect{mm(across_from), mm(along.from), mm(across), mm(along.length())};
  const Size& trim = report.job.trim;
  if (!lie.reference && (shown.width >= trim.width || shown.height >= trim.height)) return std::nullopt;
  return Closeup{.area = report.to_pixels(shown),
                 .along_x = lie.along_x,
                 .width = width,
                 .height = height,
                 .strip_below = lie.reference && lie.along_x ? strip_of_rows : 0,
                 .strip_beside = lie.along_x ? 0 : strip_of_columns,
                 .units_per_mm = picture_along / along.length()};
}

std::string closeup_svg(const Closeup& closeup, const Finding& finding, const Report& report,
                        const std::string& number, std::string_view reference, const PixelRect& picture_area,
                        std::string_view label) {
  return Drawing(closeup, finding, report, label).draw(number, reference, picture_area);
}

}  // namespace frisket
