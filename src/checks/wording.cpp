#include "checks/wording.hpp"

#include <array>
#include <cstdio>

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

namespace {

std::string side_by_side(std::string width, const std::string& height) {
  width.resize(width.rfind(' '));
  return width + " x " + height;
}

}  // namespace

std::string size_text(const Size& size, Unit unit) {
  return side_by_side(to_text(size.width, unit), to_text(size.height, unit));
}

std::string exact_size_text(const Size& size, Unit unit) {
  return side_by_side(to_exact_text(size.width, unit), to_exact_text(size.height, unit));
}

std::string plain_text(double value) {
  std::array<char, 32> text{};
  const int count = std::snprintf(text.data(), text.size(), "%.4g", value);
  return {text.data(), static_cast<std::size_t>(count)};
}

std::string subject_text(Matter matter, int count) {
  switch (matter) {
    case Matter::text:
      return count > 1 ? "Text, " + std::to_string(count) + " lines," : "Line of text";
    case Matter::drawing:
      return count > 1 ? "Small drawings, " + std::to_string(count) + " of them," : "Drawing";
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
