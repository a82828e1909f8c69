#include "checks/wording.hpp"

namespace frisket {

std::string trim_edge_text(Edge edge) { return std::string(edge_name(edge)) + " trim"; }

std::string_view inwards_text(Edge edge) {
  switch (edge) {
    case Edge::top:
      return "down";
    case Edge::right:
      return "left";
    case Edge::bottom:
      return "up";
    case Edge::left:
      return "right";
  }
  return "";
}

std::string with_points(Length length, Unit unit) {
  const std::string text = to_text(length, unit);
  return unit == Unit::point ? text : text + " (" + to_text(length, Unit::point) + ")";
}

std::string subject_text(Matter matter, int lines) {
  switch (matter) {
    case Matter::text:
      return lines > 1 ? "Text, " + std::to_string(lines) + " lines," : "Line of text";
    case Matter::drawing:
      return "Drawing";
    case Matter::rule:
      return "Rule";
    case Matter::field:
      return "Box";
    case Matter::picture:
      return "Picture";
  }
  return "";
}

Rect guide_box(const Guide& guide, const Size& trim) {
  const Length low = guide.position - guide.width / 2.0, high = guide.position + guide.width / 2.0;
  return guide.vertical ? Rect::from_sides(low, Length(), high, trim.height)
                        : Rect::from_sides(Length(), low, trim.width, high);
}

}  // namespace frisket
