#include "frisket/report.hpp"
#include "report/guide.hpp"
#include "report/svg.hpp"

namespace frisket {
namespace {

Spot spot(const Point& point) { return {point.x.mm(), point.y.mm()}; }

void draw(Svg& svg, const GuideLayer& layer) {
  const Stroke stroke{layer.colour, layer.width.mm(), layer.dash};
  svg.open_layer(layer.id, layer.label);
  for (const Rect& box : layer.boxes)
    svg.box({box.x.mm(), box.y.mm(), box.width.mm(), box.height.mm()}, stroke);
  for (const GuideLine& line : layer.lines) svg.line(spot(line.from), spot(line.to), stroke);
  for (const GuideText& text : layer.texts) {
    const Type type{text.size.mm(), false};
    if (text.turned)
      svg.turned_text(spot(text.at), text.words, type, layer.colour);
    else
      svg.text(spot(text.at), text.words, type, layer.colour, "middle");
  }
  svg.close_group();
}

}  // namespace

std::string guide_svg(const Job& job, std::optional<Side> side) {
  const GuideDrawing guide = draw_guide(job, side);
  Svg svg = Svg::in_millimetres(guide.canvas.width.mm(), guide.canvas.height.mm(), guide.title);
  for (const GuideLayer& layer : guide.layers) draw(svg, layer);
  return svg.finish();
}

}  // namespace frisket
