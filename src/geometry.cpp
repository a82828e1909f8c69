#include "frisket/geometry.hpp"

namespace frisket {

Rect intersection(const Rect& a, const Rect& b) {
  const Rect both = Rect::from_sides(std::max(a.left(), b.left()), std::max(a.top(), b.top()),
                                     std::min(a.right(), b.right()), std::min(a.bottom(), b.bottom()));
  return both.empty() ? Rect{} : both;
}

Rect united(const Rect& a, const Rect& b) {
  if (a.empty()) return b;
  if (b.empty()) return a;
  return Rect::from_sides(std::min(a.left(), b.left()), std::min(a.top(), b.top()),
                          std::max(a.right(), b.right()), std::max(a.bottom(), b.bottom()));
}

std::string_view edge_name(Edge edge) {
  switch (edge) {
    case Edge::top:
      return "top";
    case Edge::right:
      return "right";
    case Edge::bottom:
      return "bottom";
    case Edge::left:
      return "left";
  }
  return "";
}

Rect grown(const Rect& rect, const Edges& by) {
  return Rect::from_sides(rect.left() - by.left, rect.top() - by.top, rect.right() + by.right,
                          rect.bottom() + by.bottom);
}

}  // namespace frisket
