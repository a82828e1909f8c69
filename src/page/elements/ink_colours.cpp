#include "page/elements/ink_colours.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <set>
#include <span>

namespace frisket {
namespace {

using Levels = std::array<int, 3>;

/// How many pixels have a colour.
struct ColourArea {
  Levels colour;
  std::int64_t area;
};

/// All colours, in one piece of memory: noisy photographs have a hundred thousand, looked through for each of
/// their peaks.
class Areas {
 public:
  explicit Areas(const std::map<Levels, std::int64_t>& areas) {
    for (const auto& [colour, area] : areas) areas_.push_back({colour, area});
  }

  /// Those whose first channel differs by `reach` levels or less.
  std::span<ColourArea> near(const Levels& colour, int reach) {
    const auto first = std::ranges::lower_bound(areas_, colour[0] - reach, {}, first_channel);
    return {first, std::ranges::upper_bound(first, areas_.end(), colour[0] + reach, {}, first_channel)};
  }

 private:
  static int first_channel(const ColourArea& one) { return one.colour[0]; }
  std::vector<ColourArea> areas_;
};

Levels levels_of(const cv::Vec3f& colour) {
  return {cvRound(colour[0]), cvRound(colour[1]), cvRound(colour[2])};
}

/// Do the second and third channels differ by `reach` levels or less?
bool is_within(const Levels& a, const Levels& b, int reach) {
  return std::abs(a[1] - b[1]) <= reach && std::abs(a[2] - b[2]) <= reach;
}

/// Area of all colours that differ by `reach` levels or less.
std::int64_t area_within(Areas& areas, const Levels& colour, int reach) {
  std::int64_t sum = 0;
  for (const ColourArea& other : areas.near(colour, reach))
    sum += is_within(other.colour, colour, reach) ? other.area : 0;
  return sum;
}

struct Peak {
  Levels colour;
  std::int64_t area;  ///< of all that is within an ink's spread of it
  bool is_ink = false;
};

/// The colours of what may be ink that make up `least_area` pixels or more, the largest first.
std::vector<Peak> peaks_of(const std::vector<Zone>& zones, Areas& areas, int reach, double least_area,
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
  for (ColourArea& other : areas.near(colour, reach))
    if (is_within(other.colour, colour, reach)) other.area = 0;
}

}  // namespace

void keep_ink_colours(const std::vector<Zone>& zones, const std::vector<std::int64_t>& area, InkSpread spread,
                      double least_area, std::vector<bool>& ink) {
  constexpr int passes = 2;  // a weaker ink may have stood beside a stronger one
  std::map<Levels, std::int64_t> counted;
  for (std::size_t i = 0; i < zones.size(); ++i)
    if (area[i] > 0) counted[levels_of(zones[i].colour)] += area[i];
  Areas areas(counted);
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
