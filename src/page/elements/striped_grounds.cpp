#include "page/elements/striped_grounds.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <set>

#include "page/zones/contacts.hpp"

namespace frisket {
namespace {

constexpr std::size_t broad_stripes = 4;   // of one colour, at least
constexpr double same_thickness = 1.25;    // of the thicker to the usual one
constexpr int bleeding_stripes = 3;        // of those, at least
constexpr double broad_slenderness = 5.0;  // length to thickness, at least
constexpr float same_stripe_lossy = 8.0F;  // levels, between means of what JPEG made of one colour
constexpr float same_stripe = 3.0F;        // the same of flat colour: two stripes may differ by little more

bool is_like(const Surface& a, const Surface& b, const Scale& scale) {
  return a.kind == Surface::Kind::field && b.kind == Surface::Kind::field &&
         colour_step(a.colour, b.colour) <= (scale.lossy ? same_stripe_lossy : same_stripe);
}

double thickness(const Surface& s) {
  return static_cast<double>(s.area) / std::hypot(s.box.width, s.box.height);
}

/// Numbers of the surfaces that are stripes of the colour of `stripe`; none where they are few. Those that a
/// corner or a picture cuts are thinner.
std::vector<int> stripes_like(const SurfaceMap& map, const Surface& stripe, const Scale& scale) {
  std::vector<double> thick;
  for (const Surface& other : map.surfaces)
    if (other.area > 0 && is_like(other, stripe, scale) && is_stripe_shaped(other))
      thick.push_back(thickness(other));
  if (thick.size() < broad_stripes) return {};
  std::ranges::sort(thick);
  const double usual = thick[thick.size() / 2];
  const auto alike = std::ranges::count_if(
      thick, [&](double t) { return t <= same_thickness * usual && t >= usual / same_thickness; });
  std::vector<int> found;
  int bleeding = 0;
  for (std::size_t i = 0; i < map.surfaces.size(); ++i) {
    const Surface& other = map.surfaces[i];
    if (other.area == 0 || !is_like(other, stripe, scale) || thickness(other) > same_thickness * usual)
      continue;
    found.push_back(static_cast<int>(i) + 1);
    bleeding += other.canvas_contact > 0;
  }
  const bool enough = alike >= static_cast<int>(broad_stripes) && bleeding >= bleeding_stripes;
  return enough ? found : std::vector<int>{};
}

/// The fields of the one colour that most often lies beside the stripes; none where it lies beside few of
/// them, as a disc does that stands on a ground of stripes.
std::vector<int> neighbours(const SurfaceMap& map, const std::vector<int>& stripes, const Scale& scale) {
  std::vector<bool> is_stripe(map.surfaces.size() + 1);
  for (const int stripe : stripes) is_stripe[static_cast<std::size_t>(stripe)] = true;
  std::map<int, int> met;
  std::map<int, std::set<int>> stripes_met;
  each_contact(map.label, [&](int a, int b, int times) {
    if (is_stripe[static_cast<std::size_t>(a)] == is_stripe[static_cast<std::size_t>(b)]) return;
    const auto [stripe, beside] = is_stripe[static_cast<std::size_t>(a)] ? std::pair(a, b) : std::pair(b, a);
    if (map.of(beside).kind == Surface::Kind::field) met[beside] += times, stripes_met[beside].insert(stripe);
  });
  // By colour: a frame is one field that lies beside all of them, the other stripes are many.
  const auto times_of_colour = [&](const auto& entry) {
    int times = 0;
    for (const auto& [surface, count] : met)
      if (is_like(map.of(surface), map.of(entry.first), scale)) times += count;
    return times;
  };
  const auto most = std::ranges::max_element(met, {}, times_of_colour);
  std::vector<int> found;
  if (most == met.end()) return found;
  std::set<int> beside_them;
  for (const auto& [surface, count] : met)
    if (is_like(map.of(surface), map.of(most->first), scale)) {
      found.push_back(surface);
      beside_them.insert(stripes_met[surface].begin(), stripes_met[surface].end());
    }
  return 2 * beside_them.size() >= stripes.size() ? found : std::vector<int>{};
}

/// What was drawn in the colour of these stripes, as a pattern of what is left of them among type.
Pattern pattern_of(const SurfaceMap& map, const std::vector<int>& stripes, const std::vector<int>& between) {
  Pattern pattern;
  pattern.colour = map.of(stripes.front()).colour;
  pattern.beside = map.of(between.front()).colour;
  std::vector<double> thick;
  for (const int stripe : stripes) {
    pattern.figures.push_back(map.of(stripe).box);
    pattern.field |= map.of(stripe).box;
    if (is_stripe_shaped(map.of(stripe))) thick.push_back(thickness(map.of(stripe)));
  }
  pattern.inner = pattern.field;
  if (thick.empty()) return pattern;
  std::ranges::nth_element(thick, thick.begin() + std::ssize(thick) / 2);
  pattern.thickness = thick[thick.size() / 2];
  pattern.figure_area = pattern.thickness * std::hypot(pattern.field.width, pattern.field.height);
  return pattern;
}

/// Stripes that lie on paper, or are paper, stay as they are.
bool are_one_ground(const SurfaceMap& map, const std::vector<int>& stripes, const std::vector<int>& between) {
  return !between.empty() && !is_paper(map.of(between.front())) && !is_paper(map.of(stripes.front()));
}

void merge(SurfaceMap& map, const std::vector<int>& stripes, const std::vector<int>& between) {
  const int into = between.front();
  std::vector<int> number(map.surfaces.size() + 1);
  for (std::size_t i = 0; i < number.size(); ++i) number[i] = static_cast<int>(i);
  Surface& whole = map.surfaces[static_cast<std::size_t>(into - 1)];
  const auto take = [&](int from) {
    if (from == into) return;
    Surface& part = map.surfaces[static_cast<std::size_t>(from - 1)];
    take_in(whole, part);
    whole.bleeds |= whole.canvas_contact > 0;
    number[static_cast<std::size_t>(from)] = into;
  };
  std::ranges::for_each(between, take);
  std::ranges::for_each(stripes, take);
  map.label = renumbered(map.label, number, 0);
}

}  // namespace

bool is_stripe_shaped(const Surface& field) {
  return std::hypot(field.box.width, field.box.height) >= broad_slenderness * thickness(field);
}

std::vector<Pattern> merge_stripes(SurfaceMap& map, const Scale& scale) {
  std::vector<Pattern> patterns;
  std::vector<bool> seen(map.surfaces.size());
  // Surfaces of a colour that led to nothing lead to nothing again, for as long as the map stays as it is.
  std::set<std::array<float, 3>> in_vain;
  for (std::size_t i = 0; i < map.surfaces.size(); ++i) {
    const Surface& surface = map.surfaces[i];
    if (seen[i] || surface.area == 0 || surface.kind != Surface::Kind::field) continue;
    const cv::Vec3f& colour = surface.colour;
    if (!in_vain.insert({colour[0], colour[1], colour[2]}).second) continue;
    const std::vector<int> stripes = stripes_like(map, surface, scale);
    for (const int stripe : stripes) seen[static_cast<std::size_t>(stripe - 1)] = true;
    if (stripes.empty()) continue;
    const std::vector<int> between = neighbours(map, stripes, scale);
    if (!are_one_ground(map, stripes, between)) continue;
    for (Pattern pattern : {pattern_of(map, stripes, between), pattern_of(map, between, stripes)})
      if (pattern.thickness > 0) patterns.push_back(std::move(pattern));
    merge(map, stripes, between);
    in_vain.clear();
  }
  return patterns;
}

}  // namespace frisket
