#include "page/elements/ink_colours.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <set>

namespace frisket {
namespace {

using Levels = std::array<int, 3>;
using Areas = std::map<Levels, std::int64_t>;  // sorted by the first channel

Levels levels_of(const cv::Vec3f& colour) {
  return {cvRound(colour[0]), cvRound(colour[1]), cvRound(colour[2])};
}

/// Do the second and third channels differ by `reach` levels or less?
bool is_within(const Levels& a, const Levels& b, int reach) {
  return std::abs(a[1] - b[1]) <= reach && std::abs(a[2] - b[2]) <= reach;
}

/// Area of all colours that differ by `reach` levels or less.
std::int64_t area_within(const Areas& areas, const Levels& colour, int reach) {
  std::int64_t sum = 0;
  const auto last = areas.upper_bound({colour[0] + reach, 255, 255});
  for (auto other = areas.lower_bound({colour[0] - reach, 0, 0}); other != last; ++other)
    if (is_within(other->first, colour, reach)) sum += other->second;
  return sum;
}

struct Peak {
  Levels colour;
  std::int64_t area;  ///< of all that is within an ink's spread of it
  bool is_ink = false;
};

/// The colours of what may be ink that make up `least_area` pixels or more, the largest first.
std::vector<Peak> peaks_of(const std::vector<Zone>& zones, const Areas& areas, int reach, double least_area,
                           const std::vector<bool>& ink) {
  std::set<Levels> colours;
  for (std::size_t i = 0; i < zones.size(); ++i)
    if (ink[i]) colours.insert(levels_of(zones[i].colour));
  std::vector<Peak> peaks;
  for (const Levels& colour : colours)
    if (const std::int64_t area = area_within(areas, colour, reach); static_cast<double>(area) >= least_area)
      peaks.push_back({colour, area});
  std::ranges::stable_sort(peaks, std::ranges::greater{}, &Peak::area);
  return peaks;
}

/// What is told to be ink is no speck about another colour.
void take_out(const Levels& colour, int reach, Areas& areas) {
  const auto last = areas.upper_bound({colour[0] + reach, 255, 255});
  for (auto at = areas.lower_bound({colour[0] - reach, 0, 0}); at != last;)
    at = is_within(at->first, colour, reach) ? areas.erase(at) : std::next(at);
}

}  // namespace

void keep_ink_colours(const std::vector<Zone>& zones, const std::vector<std::int64_t>& area, InkSpread spread,
                      double least_area, std::vector<bool>& ink) {
  constexpr int passes = 2;  // a weaker ink may have stood beside a stronger one
  Areas areas;
  for (std::size_t i = 0; i < zones.size(); ++i)
    if (area[i] > 0) areas[levels_of(zones[i].colour)] += area[i];
  std::vector<Peak> peaks = peaks_of(zones, areas, spread.ink, least_area, ink);
  std::set<Levels> chosen;
  for (int pass = 0; pass < passes; ++pass)
    for (Peak& peak : peaks) {
      if (peak.is_ink || peak.area <= area_within(areas, peak.colour, spread.specks) -
                                          area_within(areas, peak.colour, spread.ink))
        continue;
      peak.is_ink = true;
      chosen.insert(peak.colour);
      take_out(peak.colour, spread.ink, areas);
    }
  for (std::size_t i = 0; i < zones.size(); ++i)
    ink[i] = ink[i] && chosen.contains(levels_of(zones[i].colour));
}

}  // namespace frisket
