#include "page/text/neighbourhood.hpp"

#include <algorithm>
#include <cmath>

#include "page/zones/groups.hpp"

namespace frisket {
namespace {

constexpr double like_size = 0.4;       // of the larger one's narrower side: joined words are wide
constexpr double sight = 1.5;           // how far a neighbour may lie, of the size
constexpr double middle_weight = 0.05;  // of the distance of the middles, where boxes overlap

std::vector<PixelRect> boxes_of(const std::vector<int>& members, const std::vector<Element>& elements) {
  std::vector<PixelRect> boxes;
  for (const int member : members) boxes.push_back(elements[static_cast<std::size_t>(member)].box_px);
  return boxes;
}

double middle_distance(const PixelRect& a, const PixelRect& b) {
  return std::hypot(a.x + a.width / 2 - b.x - b.width / 2, a.y + a.height / 2 - b.y - b.height / 2);
}

/// Is one beside the other, as seen along x, rather than over it?
bool lies_along(const PixelRect& a, const PixelRect& b) {
  return std::abs(a.x + a.width / 2 - b.x - b.width / 2) >= std::abs(a.y + a.height / 2 - b.y - b.height / 2);
}

}  // namespace

double gap_between(const PixelRect& a, const PixelRect& b) {
  const double across = std::max(a.x, b.x) - std::min(a.right(), b.right());
  const double down = std::max(a.y, b.y) - std::min(a.bottom(), b.bottom());
  if (across <= 0.0) return std::max(down, 0.0);
  return down <= 0.0 ? across : std::hypot(across, down);
}

Neighbourhood::Neighbourhood(const std::vector<int>& members, const std::vector<Element>& elements,
                             Glyphs& glyphs)
    : members_(members), boxes_(boxes_of(members, elements)), grid_(boxes_) {
  glyphs.measure_inks(members);
  for (const int member : members) inks_.push_back(glyphs.ink(member));
  for (std::size_t i = 0; i < members.size(); ++i) index_of_[members[i]] = i;
}

bool Neighbourhood::alike(std::size_t a, std::size_t b) const {
  const PixelRect &one = boxes_[a], &other = boxes_[b];
  const PixelRect& larger = size_of(one) >= size_of(other) ? one : other;
  return std::min(size_of(one), size_of(other)) >= like_size * std::min(larger.width, larger.height) &&
         inks_alike(inks_[a], inks_[b]);
}

int Neighbourhood::nearest_of(std::size_t member) const {
  const double reach = sight * size_of(boxes_[member]);
  double least = INFINITY;
  int nearest = -1;
  grid_.near(grown(boxes_[member], reach, reach), 0.0, [&](int i) {
    const auto other = static_cast<std::size_t>(i);
    if (other == member || !alike(member, other)) return;
    const double gap = gap_between(boxes_[member], boxes_[other]);
    if (gap >= least) return;
    const double distance = gap + middle_weight * middle_distance(boxes_[member], boxes_[other]);
    if (distance < least) least = distance, nearest = members_[other];
  });
  return nearest;
}

int Neighbourhood::nearest(int element) {
  const auto [known, is_new] = nearest_.try_emplace(element, -1);
  if (is_new) known->second = nearest_of(index_of_.at(element));
  return known->second;
}

double Neighbourhood::share_within(const Row& row) {
  std::unordered_map<int, const PixelRect*> inside;
  for (const Letter& letter : row) inside[letter.element] = &letter.box;
  const Row tall = tall_ones(row);
  double near = 0;
  for (const Letter& letter : tall) {
    const auto at = inside.find(nearest(letter.element));
    near += at != inside.end() && lies_along(letter.box, *at->second);
  }
  return near / static_cast<double>(tall.size());
}

std::vector<std::vector<int>> Neighbourhood::clumps(double reach) const {
  Groups groups(members_.size());
  for (std::size_t i = 0; i < members_.size(); ++i) {
    const double far = reach * size_of(boxes_[i]);
    grid_.near(grown(boxes_[i], far, far), 0.0, [&](int j) {
      const auto other = static_cast<std::size_t>(j);
      const double smaller = std::min(size_of(boxes_[i]), size_of(boxes_[other]));
      if (other != i && alike(i, other) && gap_between(boxes_[i], boxes_[other]) <= reach * smaller)
        groups.unite(static_cast<int>(i), j);
    });
  }
  std::vector<std::vector<int>> clumps = groups.all();
  for (std::vector<int>& clump : clumps)
    for (int& member : clump) member = members_[static_cast<std::size_t>(member)];
  return clumps;
}

}  // namespace frisket
