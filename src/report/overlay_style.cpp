#include "report/overlay_style.hpp"

#include <algorithm>
#include <string>

namespace frisket {

Stroke severity_stroke(Severity severity) {
  switch (severity) {
    case Severity::fix:
      return {palette::vermillion, 2.4, ""};
    case Severity::review:
      return {palette::blue, 1.6, ""};
    case Severity::note:
      return {palette::quiet, 1, ""};
  }
  return {};
}

double badge_width(std::string_view number) {
  return std::max(badge_height, text_width(number, badge_type) + 10);
}

namespace {

void draw_pill(Svg& svg, const PixelRect& area) {
  svg.filled_box(area, palette::vermillion, 1, area.height / 2);
}

void draw_hexagon(Svg& svg, const PixelRect& area) {
  const double point = 6, middle = area.y + area.height / 2;
  svg.polygon({{area.x, middle},
               {area.x + point, area.y},
               {area.right() - point, area.y},
               {area.right(), middle},
               {area.right() - point, area.bottom()},
               {area.x + point, area.bottom()}},
              palette::paper, {palette::blue, 2, ""});
}

void draw_square(Svg& svg, const PixelRect& area) {
  svg.filled_box(area, palette::paper);
  svg.box(area, {palette::quiet, 1, ""});
}

}  // namespace

void draw_badge(Svg& svg, Spot centre, std::string_view number, Severity severity) {
  const double width = badge_width(number), inset = 1;
  const PixelRect area{centre.x - width / 2 + inset, centre.y - badge_height / 2 + inset, width - 2 * inset,
                       badge_height - 2 * inset};
  std::string_view ink = palette::paper;
  switch (severity) {
    case Severity::fix:
      draw_pill(svg, area);
      break;
    case Severity::review:
      draw_hexagon(svg, area);
      ink = palette::blue;
      break;
    case Severity::note:
      draw_square(svg, area);
      ink = palette::black;
      break;
  }
  svg.text({centre.x, centre.y + badge_type.size * 0.36}, number, badge_type, ink, "middle");
}

}  // namespace frisket
