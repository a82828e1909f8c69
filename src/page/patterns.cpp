#include "page/patterns.hpp"

#include <algorithm>

namespace frisket {
namespace {

constexpr int repeating_fields = 6;
constexpr float same_field_colour = 4.0F;  // levels
constexpr std::size_t cut_by_canvas = 6;
constexpr std::size_t repeating_elements = 12;
constexpr float same_element_colour = 12.0F;
constexpr double same_size = 1.25;  // of the larger box area to the smaller

/// The longest stretch of sorted areas that are alike.
std::pair<double, double> commonest_area(std::vector<double> areas) {
  std::ranges::sort(areas);
  std::size_t best_from = 0, best_count = 0;
  for (std::size_t from = 0, to = 0; from < areas.size(); ++from) {
    while (to < areas.size() && areas[to] <= same_size * areas[from]) ++to;
    if (to - from > best_count) best_from = from, best_count = to - from;
  }
  if (best_count < repeating_elements) return {1.0, 0.0};
  return {areas[best_from], areas[best_from + best_count - 1]};
}

double box_area(const Element& e) { return e.box_px.width * e.box_px.height; }

/// Marks the pattern in one group of like colour.
void mark_group(ElementTree& tree, const std::vector<int>& group) {
  std::vector<double> areas;
  std::size_t cut = 0;
  for (const int i : group) {
    const Element& e = tree.elements[static_cast<std::size_t>(i)];
    if (e.touches_canvas)
      ++cut;
    else
      areas.push_back(box_area(e));
  }
  if (cut < cut_by_canvas) return;
  const auto [least, most] = commonest_area(std::move(areas));
  if (most < least) return;
  for (const int i : group) {
    Element& e = tree.elements[static_cast<std::size_t>(i)];
    e.repeats = e.touches_canvas ? box_area(e) <= 1.1 * most
                                 : box_area(e) >= 0.95 * least && box_area(e) <= 1.05 * most;
  }
}

}  // namespace

void mark_repeating_fields(SurfaceMap& map) {
  for (Surface& surface : map.surfaces) {
    if (surface.kind != Surface::Kind::field || !surface.bleeds) continue;
    const auto alike = std::ranges::count_if(map.surfaces, [&](const Surface& other) {
      return other.kind == Surface::Kind::field && other.bleeds &&
             colour_step(other.colour, surface.colour) <= same_field_colour;
    });
    surface.repeats = alike >= repeating_fields;
  }
}

void mark_repeating_elements(ElementTree& tree) {
  std::vector<int> left;
  for (std::size_t i = 0; i < tree.elements.size(); ++i)
    if (tree.elements[i].parent < 0 && tree.elements[i].matter != Matter::picture)
      left.push_back(static_cast<int>(i));
  while (!left.empty()) {
    const cv::Vec3f colour = tree.colours[static_cast<std::size_t>(left.front())];
    const auto rest = std::ranges::stable_partition(left, [&](int i) {
      return colour_step(tree.colours[static_cast<std::size_t>(i)], colour) <= same_element_colour;
    });
    mark_group(tree, {left.begin(), rest.begin()});
    left.erase(left.begin(), rest.begin());
  }
}

}  // namespace frisket
