#pragma once

#include <algorithm>
#include <array>
#include <string_view>

#include "frisket/units.hpp"

namespace frisket {

// Job space: origin at the top left corner of the trim, x to the right, y down; the bleed has negative
// coordinates or ones past the trim size. Rectangles are half-open, and an empty rectangle is empty: it
// never stands for 'everything'.

struct Point {
  Length x, y;
  bool operator==(const Point&) const = default;
};

struct Size {
  Length width, height;
  bool operator==(const Size&) const = default;
};

struct Rect {
  Length x, y, width, height;

  static constexpr Rect from_sides(Length left, Length top, Length right, Length bottom) {
    return {left, top, right - left, bottom - top};
  }
  constexpr Length left() const { return x; }
  constexpr Length top() const { return y; }
  constexpr Length right() const { return x + width; }
  constexpr Length bottom() const { return y + height; }
  constexpr bool empty() const { return width <= Length() || height <= Length(); }
  bool operator==(const Rect&) const = default;
};

/// The part that both cover; empty (all zero) where they do not meet.
Rect intersection(const Rect& a, const Rect& b);
/// The smallest rectangle that holds both; an empty one adds nothing.
Rect united(const Rect& a, const Rect& b);

/// The four edges of the trim as the side is looked at.
enum class Edge { top, right, bottom, left };
inline constexpr std::array<Edge, 4> all_edges{Edge::top, Edge::right, Edge::bottom, Edge::left};
/// "top", "right", "bottom" or "left".
std::string_view edge_name(Edge edge);
/// True for left and right: edges that lie at an x.
constexpr bool is_vertical(Edge edge) { return edge == Edge::left || edge == Edge::right; }

/// One length for each edge: a bleed, a safe distance.
struct Edges {
  Length top, right, bottom, left;

  static constexpr Edges all(Length length) { return {length, length, length, length}; }
  constexpr Length at(Edge edge) const {
    return edge == Edge::top ? top : edge == Edge::right ? right : edge == Edge::bottom ? bottom : left;
  }
  constexpr Length& at(Edge edge) {
    return edge == Edge::top ? top : edge == Edge::right ? right : edge == Edge::bottom ? bottom : left;
  }
  bool operator==(const Edges&) const = default;
};

/// How far the side of `box` that faces a trim edge lies inside it; negative where it lies past it.
Length distance_inside(const Rect& box, Edge edge, const Size& trim);
/// The part of the plane between two distances inside a trim edge, from `along` to `to_along` along it.
Rect along_edge(Edge edge, const Size& trim, Length from, Length to, Length along, Length to_along);

/// `rect` grown by `by` on each edge (shrunk where negative).
Rect grown(const Rect& rect, const Edges& by);

/// A rectangle in canvas pixels, origin at the canvas' top left corner; fractions are meant.
struct PixelRect {
  double x = 0, y = 0, width = 0, height = 0;
  double right() const { return x + width; }
  double bottom() const { return y + height; }
  bool operator==(const PixelRect&) const = default;
};

}  // namespace frisket
