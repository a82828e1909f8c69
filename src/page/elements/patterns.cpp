#include "page/elements/patterns.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "page/elements/striped_grounds.hpp"
#include "page/zones/pixel_boxes.hpp"

namespace frisket {
namespace {

constexpr int repeating_fields = 6;
constexpr std::size_t repeating_stripes = 6;
constexpr double stripe_slenderness = 8.0;
constexpr std::size_t repeating_tiles = 12;
constexpr int tiles_cut = 4;
constexpr double least_tiled = 0.04;  // of the area that tiles lie in: that of dots at five times their width
constexpr double same_side = 1.12;    // of the wider of two tiles to the narrower, and of their heights
constexpr float same_field_colour = 4.0F;  // levels
constexpr std::size_t cut_by_canvas = 6;
constexpr std::size_t repeating_elements = 12;
constexpr double least_even = 0.5;  // share that lies at one distance from its nearest; strewn ones: a tenth
constexpr std::size_t largest_lattice = 5000;  // of nearest neighbours looked for one by one
constexpr float same_element_colour = 12.0F;
constexpr float same_figure_lossy = 24.0F;  // levels; the colour of small figures wavers in JPEG
constexpr double same_size = 1.25;          // of the larger box area to the smaller

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

struct Spacing {
  std::vector<cv::Point2d> points;
  double pitch = 0;  ///< px; the usual distance to the nearest
  double even = 0;   ///< share of them that have it
};

Spacing spacing_of(const ElementTree& tree, const std::vector<int>& members) {
  Spacing spacing;
  for (const int i : members) spacing.points.push_back(centre(tree.elements[static_cast<std::size_t>(i)]));
  const std::vector<double> nearest = nearest_distances(spacing.points);
  std::vector<double> sorted = nearest;
  std::ranges::nth_element(sorted, sorted.begin() + static_cast<std::ptrdiff_t>(sorted.size() / 2));
  const double pitch = spacing.pitch = sorted[sorted.size() / 2];
  const auto even =
      std::ranges::count_if(nearest, [&](double d) { return std::abs(d - pitch) <= 0.05 * pitch + 1.0; });
  spacing.even = static_cast<double>(even) / static_cast<double>(nearest.size());
  return spacing;
}

/// Do the members lie at one distance from their neighbours, fill their box, and reach the canvas edge? Where
/// it cuts none, there is no room for another: the boxes of a calendar leave some.
bool is_lattice(const ElementTree& tree, const std::vector<int>& members, bool some_cut) {
  if (members.size() < repeating_elements || members.size() > largest_lattice) return false;
  const auto [points, pitch, even] = spacing_of(tree, members);
  double left = points[0].x, right = left, top = points[0].y, bottom = top;
  for (const cv::Point2d& p : points)
    left = std::min(left, p.x), right = std::max(right, p.x), top = std::min(top, p.y),
    bottom = std::max(bottom, p.y);
  const double places = ((right - left) / pitch + 1.0) * ((bottom - top) / pitch + 1.0);
  const PixelRect& figure = tree.elements[static_cast<std::size_t>(members.front())].box_px;
  const double reach = some_cut ? 1.5 * pitch : pitch - 0.5 * std::min(figure.width, figure.height) + 1.0;
  const bool reaches_edge =
      left < reach || top < reach || right > tree.map.cols - reach || bottom > tree.map.rows - reach;
  return even >= 0.8 && std::min(right - left, bottom - top) >= 2.5 * pitch &&
         static_cast<double>(points.size()) >= 0.3 * places && reaches_edge;
}

/// Several cut by the canvas edge make a pattern of members that lie in some order; flakes of snow do not,
/// and letters of their size and colour would be taken with them (strewn_ground.hpp).
bool goes_on(const ElementTree& tree, const std::vector<int>& members, std::size_t cut) {
  if (cut < cut_by_canvas) return is_lattice(tree, members, cut > 0);
  return members.size() > largest_lattice || spacing_of(tree, members).even >= least_even;
}

double thickness(double area, double width, double height) { return area / std::hypot(width, height); }

/// Thin stripes that run off the page: long, of one thickness. What other things cut off is marked with them.
std::optional<Pattern> mark_stripes(ElementTree& tree, const std::vector<int>& group) {
  const auto thickness_of = [&](int i) {
    const Element& e = tree.elements[static_cast<std::size_t>(i)];
    return thickness(e.ink * box_area(e), e.box_px.width, e.box_px.height);
  };
  std::vector<double> thick;
  for (const int i : group) {
    const Element& e = tree.elements[static_cast<std::size_t>(i)];
    const double t = thickness_of(i);
    if (e.touches_canvas && std::hypot(e.box_px.width, e.box_px.height) >= stripe_slenderness * t)
      thick.push_back(t);
  }
  if (thick.size() < repeating_stripes) return std::nullopt;
  std::ranges::sort(thick);
  const double usual = thick[thick.size() / 2];
  const auto alike = std::ranges::count_if(
      thick, [&](double t) { return t >= usual / same_size - 1.0 && t <= same_size * usual + 1.0; });
  if (static_cast<std::size_t>(alike) < repeating_stripes || 4 * alike < 3 * std::ssize(thick))
    return std::nullopt;
  Pattern pattern;
  pattern.colour = tree.colours[static_cast<std::size_t>(group.front())];
  pattern.thickness = usual;
  for (const int i : group) {
    Element& e = tree.elements[static_cast<std::size_t>(i)];
    if (!e.touches_canvas || thickness_of(i) > same_size * usual + 1.0) continue;
    e.repeats = true;
    pattern.figures.push_back(whole_pixels(e.box_px));
    pattern.inner |= whole_pixels(e.box_px);
    pattern.figure_area = std::max(pattern.figure_area, box_area(e));
  }
  pattern.inner &= cv::Rect({}, tree.map.size());
  pattern.field = pattern.inner;
  return pattern;
}

/// Marks the pattern in one group of like colour.
std::optional<Pattern> mark_group(ElementTree& tree, const std::vector<int>& group) {
  if (auto stripes = mark_stripes(tree, group)) return stripes;
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
  if (!goes_on(tree, alike, cut)) return std::nullopt;
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
  // Where the pattern ends, it cuts figures that lie one pitch beyond the last whole ones.
  const double pitch = std::sqrt(field.width * field.height / static_cast<double>(alike.size()));
  const double reach = std::max(std::sqrt(most), pitch);
  field = {field.x - reach, field.y - reach, field.width + 2 * reach, field.height + 2 * reach};
  Pattern pattern;
  pattern.colour = tree.colours[static_cast<std::size_t>(alike.front())];
  pattern.figure_area = most;
  pattern.inner = inner;
  pattern.field = whole_pixels(field);
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

/// Of the sides of two tiles. Strewn figures have areas that are alike more often than both of their sides.
bool is_alike(int a, int b) { return a <= same_side * b && b <= same_side * a; }

/// How often `colour` begins along the canvas edge.
int runs_along_canvas(const cv::Mat& rgb, const cv::Vec3f& colour) {
  int runs = 0;
  bool before = false;
  const auto meet = [&](int x, int y) {
    const bool here = colour_step(cv::Vec3f(rgb.at<cv::Vec3b>(y, x)), colour) <= same_element_colour;
    runs += here && !before;
    before = here;
  };
  for (int x = 0; x < rgb.cols; ++x) meet(x, 0);
  for (int y = 0; y < rgb.rows; ++y) meet(rgb.cols - 1, y);
  for (int x = rgb.cols - 1; x >= 0; --x) meet(x, rgb.rows - 1);
  for (int y = rgb.rows - 1; y >= 0; --y) meet(0, y);
  return runs;
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

std::vector<Pattern> tiles(const cv::Mat& rgb, const SurfaceMap& map) {
  std::vector<Pattern> patterns;
  std::vector<bool> taken(map.surfaces.size());
  for (std::size_t i = 0; i < map.surfaces.size(); ++i) {
    const Surface& tile = map.surfaces[i];
    if (taken[i] || tile.kind != Surface::Kind::field || tile.bleeds || is_stripe_shaped(tile)) continue;
    Pattern pattern;
    pattern.colour = tile.colour;
    pattern.inner = tile.box;
    double tiled = 0;
    for (std::size_t j = 0; j < map.surfaces.size(); ++j) {
      const Surface& other = map.surfaces[j];
      if (other.kind != Surface::Kind::field || colour_step(other.colour, tile.colour) > same_field_colour)
        continue;
      if (!is_alike(other.box.width, tile.box.width) || !is_alike(other.box.height, tile.box.height))
        continue;
      taken[j] = true;
      pattern.figures.push_back(other.box);
      pattern.inner |= other.box;
      pattern.figure_area = std::max(pattern.figure_area, static_cast<double>(other.box.area()));
      tiled += other.box.area();
    }
    // The meshes of a drawing, through which its ground is seen, are alike as tiles are; but they are few.
    if (tiled < least_tiled * pattern.inner.area()) continue;
    if (pattern.figures.size() < repeating_tiles || runs_along_canvas(rgb, tile.colour) < tiles_cut) continue;
    const int side = static_cast<int>(std::sqrt(pattern.figure_area)) + 1;
    pattern.field = (pattern.inner + cv::Size(2 * side, 2 * side) - cv::Point(side, side)) &
                    cv::Rect({}, map.label.size());
    patterns.push_back(std::move(pattern));
  }
  return patterns;
}

std::vector<Pattern> mark_repeating_elements(ElementTree& tree) {
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
    if (auto pattern = mark_group(tree, {left.begin(), rest})) patterns.push_back(*pattern);
    left.erase(left.begin(), rest);
  }
  return patterns;
}

void mark_figures_left(ElementTree& tree, const std::vector<Pattern>& patterns) {
  for (std::size_t i = 0; i < tree.elements.size(); ++i) {
    Element& e = tree.elements[i];
    e.repeats |= std::ranges::any_of(patterns, [&](const Pattern& pattern) {
      return inside(whole_pixels(e.box_px), pattern.field) && box_area(e) <= 1.2 * pattern.figure_area &&
             colour_step(tree.colours[i], pattern.colour) <= same_figure_lossy;
    });
  }
}

}  // namespace frisket
