#include "page/patterns.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

namespace frisket {
namespace {

constexpr int repeating_fields = 6;
constexpr std::size_t repeating_tiles = 12;
constexpr int tiles_cut = 4;
constexpr float same_field_colour = 4.0F;  // levels
constexpr std::size_t cut_by_canvas = 6;
constexpr std::size_t repeating_elements = 12;
constexpr std::size_t largest_lattice = 5000;  // of nearest neighbours looked for one by one
constexpr double least_figure_mm = 0.8;        // smaller dots are leaders of a table
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

cv::Point2d centre(const Element& e) {
  return {e.box_px.x + e.box_px.width / 2.0, e.box_px.y + e.box_px.height / 2.0};
}

/// Distance of each to its nearest fellow.
std::vector<double> nearest_distances(const std::vector<cv::Point2d>& points) {
  std::vector<double> nearest(points.size(), std::numeric_limits<double>::max());
  for (std::size_t i = 0; i < points.size(); ++i)
    for (std::size_t j = i + 1; j < points.size(); ++j) {
      const double distance = std::hypot(points[i].x - points[j].x, points[i].y - points[j].y);
      nearest[i] = std::min(nearest[i], distance), nearest[j] = std::min(nearest[j], distance);
    }
  return nearest;
}

/// Do the members lie at one distance from their neighbours, fill their box, and reach the canvas edge?
bool is_lattice(const ElementTree& tree, const std::vector<int>& members, const Scale& scale) {
  if (members.size() < repeating_elements || members.size() > largest_lattice) return false;
  std::vector<cv::Point2d> points;
  for (const int i : members) {
    const Element& e = tree.elements[static_cast<std::size_t>(i)];
    if (std::max(e.box_px.width, e.box_px.height) < scale.px(least_figure_mm)) return false;
    points.push_back(centre(e));
  }
  std::vector<double> nearest = nearest_distances(points);
  std::vector<double> sorted = nearest;
  std::ranges::nth_element(sorted, sorted.begin() + static_cast<std::ptrdiff_t>(sorted.size() / 2));
  const double pitch = sorted[sorted.size() / 2];
  const auto regular =
      std::ranges::count_if(nearest, [&](double d) { return std::abs(d - pitch) <= 0.05 * pitch + 1.0; });
  double left = points[0].x, right = left, top = points[0].y, bottom = top;
  for (const cv::Point2d& p : points)
    left = std::min(left, p.x), right = std::max(right, p.x), top = std::min(top, p.y),
    bottom = std::max(bottom, p.y);
  const double places = ((right - left) / pitch + 1.0) * ((bottom - top) / pitch + 1.0);
  const bool reaches_edge = left < 1.5 * pitch || top < 1.5 * pitch || right > tree.map.cols - 1.5 * pitch ||
                            bottom > tree.map.rows - 1.5 * pitch;
  return 10 * regular >= 8 * static_cast<std::ptrdiff_t>(points.size()) &&
         std::min(right - left, bottom - top) >= 2.5 * pitch &&
         static_cast<double>(points.size()) >= 0.3 * places && reaches_edge;
}

cv::Rect whole_pixels(const PixelRect& box) {
  const cv::Point from(static_cast<int>(std::floor(box.x)), static_cast<int>(std::floor(box.y)));
  const cv::Point to(static_cast<int>(std::ceil(box.right())), static_cast<int>(std::ceil(box.bottom())));
  return {from, to};
}

/// Marks the pattern in one group of like colour.
std::optional<Pattern> mark_group(ElementTree& tree, const std::vector<int>& group, const Scale& scale) {
  std::vector<double> areas;
  std::size_t cut = 0;
  for (const int i : group) {
    const Element& e = tree.elements[static_cast<std::size_t>(i)];
    if (e.touches_canvas)
      ++cut;
    else
      areas.push_back(box_area(e));
  }
  const auto [least, most] = commonest_area(std::move(areas));
  if (most < least) return std::nullopt;
  std::vector<int> alike;
  for (const int i : group) {
    const double area = box_area(tree.elements[static_cast<std::size_t>(i)]);
    if (area >= 0.95 * least && area <= 1.05 * most) alike.push_back(i);
  }
  if (cut < cut_by_canvas && !is_lattice(tree, alike, scale)) return std::nullopt;
  PixelRect field = tree.elements[static_cast<std::size_t>(alike.front())].box_px;
  for (const int i : alike) {
    Element& e = tree.elements[static_cast<std::size_t>(i)];
    e.repeats = true;
    const double right = std::max(field.right(), e.box_px.right()),
                 bottom = std::max(field.bottom(), e.box_px.bottom());
    field.x = std::min(field.x, e.box_px.x), field.y = std::min(field.y, e.box_px.y);
    field.width = right - field.x, field.height = bottom - field.y;
  }
  const cv::Rect inner = whole_pixels(field);
  const double side = std::sqrt(most);
  field = {field.x - side, field.y - side, field.width + 2 * side, field.height + 2 * side};
  Pattern pattern{
      tree.colours[static_cast<std::size_t>(alike.front())], most, inner, whole_pixels(field), {}};
  // Figures that the canvas or the end of the field cuts are smaller.
  for (const int i : group) {
    Element& e = tree.elements[static_cast<std::size_t>(i)];
    const cv::Point2d at = centre(e);
    const bool among = at.x >= field.x && at.x <= field.right() && at.y >= field.y && at.y <= field.bottom();
    if (box_area(e) <= 1.1 * most && (e.touches_canvas || among)) e.repeats = true;
    if (!e.repeats) continue;
    pattern.figures.push_back(whole_pixels(e.box_px));
    pattern.field |= whole_pixels(e.box_px);
  }
  pattern.field &= cv::Rect({}, tree.map.size());
  return pattern;
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

std::vector<Pattern> tiles(const SurfaceMap& map) {
  std::vector<Pattern> patterns;
  std::vector<bool> taken(map.surfaces.size());
  for (std::size_t i = 0; i < map.surfaces.size(); ++i) {
    const Surface& tile = map.surfaces[i];
    if (taken[i] || tile.kind != Surface::Kind::field || tile.bleeds) continue;
    Pattern pattern{tile.colour, 0.0, tile.box, tile.box, {}};
    int cut = 0;
    for (std::size_t j = 0; j < map.surfaces.size(); ++j) {
      const Surface& other = map.surfaces[j];
      if (other.kind != Surface::Kind::field || colour_step(other.colour, tile.colour) > same_field_colour)
        continue;
      cut += other.bleeds;
      const double ratio = other.box.area() / static_cast<double>(tile.box.area());
      if (ratio >= same_size || ratio <= 1.0 / same_size) continue;
      taken[j] = true;
      pattern.figures.push_back(other.box);
      pattern.inner |= other.box;
      pattern.figure_area = std::max(pattern.figure_area, static_cast<double>(other.box.area()));
    }
    if (pattern.figures.size() < repeating_tiles || cut < tiles_cut) continue;
    const int side = static_cast<int>(std::sqrt(pattern.figure_area)) + 1;
    pattern.field = (pattern.inner + cv::Size(2 * side, 2 * side) - cv::Point(side, side)) &
                    cv::Rect({}, map.label.size());
    patterns.push_back(std::move(pattern));
  }
  return patterns;
}

std::vector<Pattern> mark_repeating_elements(ElementTree& tree, const Scale& scale) {
  std::vector<int> left;
  for (std::size_t i = 0; i < tree.elements.size(); ++i)
    if (tree.elements[i].parent < 0 && tree.elements[i].matter != Matter::picture)
      left.push_back(static_cast<int>(i));
  std::vector<Pattern> patterns;
  while (!left.empty()) {
    const cv::Vec3f colour = tree.colours[static_cast<std::size_t>(left.front())];
    const auto rest = std::stable_partition(left.begin(), left.end(), [&](int i) {
      return colour_step(tree.colours[static_cast<std::size_t>(i)], colour) <= same_element_colour;
    });
    if (auto pattern = mark_group(tree, {left.begin(), rest}, scale)) patterns.push_back(*pattern);
    left.erase(left.begin(), rest);
  }
  return patterns;
}

}  // namespace frisket
