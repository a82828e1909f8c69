#include "page/elements/ink_colours.hpp"

#include <algorithm>
#include <array>
#include <map>

namespace frisket {
namespace {

using Levels = std::array<int, 3>;
using Areas = std::map<Levels, std::int64_t>;  // sorted by the first channel

Levels levels_of(const cv::Vec3f& colour) {
  return {cvRound(colour[0]), cvRound(colour[1]), cvRound(colour[2])};
}

/// Area of all colours that differ by `reach` levels or less.
std::int64_t area_within(const Areas& areas, const Levels& colour, int reach) {
  std::int64_t sum = 0;
  const auto last = areas.upper_bound({colour[0] + reach, 255, 255});
  for (auto other = areas.lower_bound({colour[0] - reach, 0, 0}); other != last; ++other)
    if (std::abs(other->first[1] - colour[1]) <= reach && std::abs(other->first[2] - colour[2]) <= reach)
      sum += other->second;
  return sum;
}

}  // namespace

void keep_ink_colours(const std::vector<Zone>& zones, const std::vector<std::int64_t>& area, InkSpread spread,
                      double least_area, std::vector<bool>& ink) {
  Areas areas;
  for (std::size_t i = 0; i < zones.size(); ++i)
    if (area[i] > 0) areas[levels_of(zones[i].colour)] += area[i];
  std::map<Levels, bool> chosen;
  for (std::size_t i = 0; i < zones.size(); ++i) {
    if (!ink[i]) continue;
    const Levels colour = levels_of(zones[i].colour);
    const auto [at, fresh] = chosen.try_emplace(colour, false);
    if (fresh) {
      const std::int64_t own = area_within(areas, colour, spread.ink);
      at->second =
          static_cast<double>(own) >= least_area && 2 * own > area_within(areas, colour, spread.specks);
    }
    ink[i] = at->second;
  }
}

}  // namespace frisket
