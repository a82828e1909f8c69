#include "page/elements/drawings.hpp"

#include <algorithm>

#include "page/zones/groups.hpp"

namespace frisket {
namespace {

constexpr double lossy_speck_mm = 1.0;  // side of the square of that area
constexpr double part_gap_mm = 1.0;
constexpr double largest_part_mm = 60.0;  // larger things stand for themselves
constexpr double dot_mm = 1.2;
constexpr double dot_gap_mm = 4.0;  // between dots, or dashes of a length like it
constexpr double dash_mm = 12.0;

struct Part {
  int element;
  PixelRect box;
  int parent;
  bool is_cut = false;  ///< by the canvas edge
};

double gap(double a0, double a1, double b0, double b1) { return std::max(a0, b0) - std::min(a1, b1); }

/// A dot, or a dash: thin and not long.
bool is_mark(const PixelRect& box, const Scale& scale) {
  return std::min(box.width, box.height) <= scale.px(dot_mm) &&
         std::max(box.width, box.height) <= scale.px(dash_mm);
}

bool alike(double a, double b) { return std::max(a, b) <= 1.5 * std::min(a, b) + 1.0; }

/// Two marks of one size, in a row or above one another. The canvas edge may have cut the last one short.
bool in_a_row(const Part& one, const Part& other, const Scale& scale) {
  const PixelRect &a = one.box, &b = other.box;
  if (!is_mark(a, scale) || !is_mark(b, scale)) return false;
  const bool cut = one.is_cut || other.is_cut;
  const bool as_wide = alike(a.width, b.width), as_high = alike(a.height, b.height);
  const double across = gap(a.x, a.right(), b.x, b.right()), down = gap(a.y, a.bottom(), b.y, b.bottom());
  const double reach = std::max(scale.px(dot_gap_mm), std::max(a.width, a.height));
  return (as_high && (cut || as_wide) && across <= reach && -down >= 0.5 * std::min(a.height, b.height)) ||
         (as_wide && (cut || as_high) && down <= reach && -across >= 0.5 * std::min(a.width, b.width));
}

bool belong_together(const Part& a, const Part& b, const Scale& scale) {
  if (a.parent != b.parent) return false;
  const double across = gap(a.box.x, a.box.right(), b.box.x, b.box.right());
  const double down = gap(a.box.y, a.box.bottom(), b.box.y, b.box.bottom());
  const bool near = !a.is_cut && !b.is_cut && std::max(across, down) <= scale.px(part_gap_mm);
  return near || in_a_row(a, b, scale);
}

bool may_be_part(const Element& e, const Scale& scale) {
  return std::max(e.box_px.width, e.box_px.height) <= scale.px(largest_part_mm) &&
         e.matter != Matter::picture && (!e.touches_canvas || is_mark(e.box_px, scale));
}

/// On a lossy page a lone speck is more likely the compression's than anybody's drawing.
bool is_speck(const std::vector<Element>& elements, const std::vector<int>& group, const Scale& scale) {
  double area = 0;
  for (const int member : group) {
    const PixelRect& box = elements[static_cast<std::size_t>(member)].box_px;
    area += box.width * box.height;
  }
  return scale.lossy && area < scale.square_px(lossy_speck_mm);
}

}  // namespace

std::vector<std::vector<int>> group_drawings(const std::vector<Element>& elements, const Scale& scale) {
  std::vector<Part> parts;
  std::vector<std::vector<int>> drawings;
  for (std::size_t i = 0; i < elements.size(); ++i) {
    const Element& e = elements[i];
    if (e.line >= 0 || e.on_guide || e.repeats) continue;
    if (may_be_part(e, scale))
      parts.push_back({static_cast<int>(i), e.box_px, e.parent, e.touches_canvas});
    else
      drawings.push_back({static_cast<int>(i)});
  }
  std::ranges::sort(parts, {}, [](const Part& p) { return std::pair(p.box.x, p.element); });
  Groups groups(parts.size());
  const double reach = scale.px(dash_mm);
  for (std::size_t i = 0; i < parts.size(); ++i)
    for (std::size_t j = i + 1; j < parts.size() && parts[j].box.x <= parts[i].box.right() + reach; ++j)
      if (belong_together(parts[i], parts[j], scale)) groups.unite(static_cast<int>(i), static_cast<int>(j));
  for (std::vector<int>& group : groups.all()) {
    for (int& member : group) member = parts[static_cast<std::size_t>(member)].element;
    std::ranges::sort(group);
    drawings.push_back(std::move(group));
  }
  std::erase_if(drawings, [&](const std::vector<int>& group) { return is_speck(elements, group, scale); });
  return drawings;
}

}  // namespace frisket
