#include "page/grounds/bands.hpp"

#include <algorithm>
#include <map>

#include "page/zones/contacts.hpp"
#include "page/zones/groups.hpp"

namespace frisket {
namespace {

/// Of the zone's pixels; the rest are borders, and what type leaves over.
constexpr double made_of_bands = 0.75;

constexpr double contact_mm = 3.0;  // of two bands; as long as the side of the smallest field
constexpr float rounding = 2.0F;    // levels; of two steps to whole ones

/// What fields side by side have to be to be taken for bands.
struct BandRule {
  float step;          ///< levels; from one to the next they differ by less
  float alike;         ///< of the larger of two steps: how far those may differ
  std::size_t fewest;  ///< bands that show a direction
};
/// Some bands of small steps are two that a zone has joined.
constexpr BandRule small_steps{band_step, 0.5F, 3};
/// Panels may be tints of one colour in even steps as well; so many of them there are not.
constexpr BandRule large_steps{2 * band_step, 0.0F, 5};

/// Pairs of fields that lie side by side, the lower number first.
class Contacts {
 public:
  Contacts(const SurfaceMap& map, const Scale& scale, float step)
      : map_(map), step_(step), least_(static_cast<int>(scale.px(contact_mm)) / contact_step) {}

  std::vector<std::vector<int>> run() {
    each_contact(map_.label, [&](int a, int b, int times) { meet(a, b, times); });
    std::vector<std::vector<int>> beside(map_.surfaces.size() + 1);
    for (const auto& [pair, count] : met_)
      if (count >= least_) {
        beside[static_cast<std::size_t>(pair.first)].push_back(pair.second);
        beside[static_cast<std::size_t>(pair.second)].push_back(pair.first);
      }
    return beside;
  }

 private:
  void meet(int a, int b, int times) {
    if (!may_be_band(a) || !may_be_band(b)) return;
    if (colour_step(map_.of(a).colour, map_.of(b).colour) < step_) met_[std::minmax(a, b)] += times;
  }
  bool may_be_band(int surface) const {
    return map_.of(surface).kind == Surface::Kind::field && !is_paper(map_.of(surface));
  }

  const SurfaceMap& map_;
  float step_;
  int least_;
  std::map<std::pair<int, int>, int> met_;
};

/// Does the colour go on from b to c as it came from a?
bool goes_on(const cv::Vec3f& a, const cv::Vec3f& b, const cv::Vec3f& c, const BandRule& rule) {
  const cv::Vec3f first = b - a, second = c - b;
  const float larger = std::max(colour_step(a, b), colour_step(b, c));
  for (int i = 0; i < 3; ++i)
    if (std::abs(first[i] - second[i]) > rounding + rule.alike * larger) return false;
  return larger > rounding && larger < rule.step;
}

void mix_in(Surface& whole, Surface& part) {
  const float share = static_cast<float>(part.area) / static_cast<float>(whole.area + part.area);
  whole.colour += share * (part.colour - whole.colour);
  take_in(whole, part);
}

/// Bands that go on from one to the next, where they are enough.
std::vector<std::vector<int>> bands_by(const BandRule& rule, const SurfaceMap& map,
                                       const std::vector<std::vector<int>>& beside) {
  Groups groups(beside.size());
  for (int b = 1; b < static_cast<int>(beside.size()); ++b)
    for (const int a : beside[static_cast<std::size_t>(b)])
      for (const int c : beside[static_cast<std::size_t>(b)])
        if (a < c && goes_on(map.of(a).colour, map.of(b).colour, map.of(c).colour, rule))
          groups.unite(groups.unite(a, b), c);
  std::vector<std::vector<int>> bands = groups.all();
  std::erase_if(bands, [&](const std::vector<int>& group) { return group.size() < rule.fewest; });
  return bands;
}

}  // namespace

bool is_banded(const cv::Mat& rgb, const ZoneMap& zones, int number, double least_area) {
  const Zone& whole = zones.zones[static_cast<std::size_t>(number)];
  const KeptZones kept{[&](const Zone& zone) { return static_cast<double>(zone.area) >= least_area; },
                       static_cast<int>(least_area)};
  const ZoneMap flat = label_zones(rgb, whole.box, {0, 0}, kept);
  // A flat zone lies wholly in a zone of looser rule, or wholly outside.
  double covered = 0;
  for (int y = 0; y < flat.label.rows; ++y)
    for (const Run& run : flat.label.row(y))
      if (zones.label(y + whole.box.y, run.begin + whole.box.x) == number) covered += run.length();
  return covered >= made_of_bands * static_cast<double>(whole.area);
}

void merge_bands(SurfaceMap& map, const Scale& scale) {
  if (map.surfaces.size() < small_steps.fewest) return;
  const std::vector<std::vector<int>> beside = Contacts(map, scale, large_steps.step).run();
  Groups groups(beside.size());
  for (const BandRule& rule : {small_steps, large_steps})
    for (const std::vector<int>& group : bands_by(rule, map, beside))
      for (const int surface : group) groups.unite(group.front(), surface);
  const std::vector<std::vector<int>> all = groups.all();
  if (all.size() == groups.size()) return;
  std::vector<int> number(groups.size());
  for (const std::vector<int>& group : all)
    for (const int surface : group) {
      number[static_cast<std::size_t>(surface)] = group.front();
      if (surface != group.front())
        mix_in(map.surfaces[static_cast<std::size_t>(group.front() - 1)],
               map.surfaces[static_cast<std::size_t>(surface - 1)]);
    }
  map.label = renumbered(map.label, number, 0);
}

}  // namespace frisket
