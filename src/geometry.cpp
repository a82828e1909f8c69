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

Length distance_inside(const Rect& box, Edge edge, const Size& trim) {
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

Rect along_edge(Edge edge, const Size& trim, Length from, Length to, Length along, Length to_along) {
  switch (edge) {
    case Edge::top:
      return Rect::from_sides(along, from, to_along, to);
    case Edge::bottom:
      return Rect::from_sides(along, trim.height - to, to_along, trim.height - from);
    case Edge::left:
      return Rect::from_sides(from, along, to, to_along);
    case Edge::right:
      return Rect::from_sides(trim.width - to, along, trim.width - from, to_along);
  }
  return {};
}

Rect grown(const Rect& rect, const Edges& by) {
  return Rect::from_sides(rect.left() - by.left, rect.top() - by.top, rect.right() + by.right,
                          rect.bottom() + by.bottom);
}

}  // namespace frisket
