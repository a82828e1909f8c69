#include "page/grounds/step_profile.hpp"

#include <algorithm>
#include <array>
#include <cstdint>
#include <cstdlib>
#include <span>

namespace frisket {
namespace {

constexpr std::size_t cap = 64;        // larger steps count as this one
constexpr int columns_at_a_time = 32;  // whose counts stay in the processor's cache

/// How often each step occurs along one boundary.
using StepCounts = std::array<int, cap>;

void count(std::uint8_t a, std::uint8_t b, StepCounts& counts) {
  ++counts[std::min(cap - 1, static_cast<std::size_t>(std::abs(a - b)))];
}

/// Counts for the columns from `first` up to `last`.
void count_steps(const GreyView& grey, int top, int bottom, int first, int last,
                 std::span<StepCounts> counts) {
  if (grey.turned) {
    for (int x = first; x < last; ++x) {
      const std::uint8_t *before = grey.page[x - 1], *here = grey.page[x];
      for (int y = top; y < bottom; ++y)
        count(before[y], here[y], counts[static_cast<std::size_t>(x - first)]);
    }
    return;
  }
  for (int y = top; y < bottom; ++y) {
    const std::uint8_t* row = grey.page[y];
    for (int x = first; x < last; ++x) count(row[x - 1], row[x], counts[static_cast<std::size_t>(x - first)]);
  }
}

double exceeded_along(const StepCounts& counts, int need) {
  std::size_t step = cap - 1;
  int above = counts[step];
  while (step > 0 && above < need) above += counts[--step];
  // within the level, by how far the count goes beyond the need: whole levels would make ties
  const double fraction = counts[step] ? (above - need) / static_cast<double>(counts[step]) : 0.0;
  return step > 0 ? static_cast<double>(step) + fraction : 0.0;
}

}  // namespace

void add_to_profile(const GreyView& grey, int top, int bottom, Columns columns,
                    std::vector<double>& profile) {
  const int need = 7 * (bottom - top) / 10;
  for (int first = std::max(1, columns.begin); first < columns.end; first += columns_at_a_time) {
    const int last = std::min(columns.end, first + columns_at_a_time);
    std::array<StepCounts, columns_at_a_time> counts{};
    count_steps(grey, top, bottom, first, last, counts);
    for (int x = first; x < last; ++x)
      profile[static_cast<std::size_t>(x)] =
          exceeded_along(counts[static_cast<std::size_t>(x - first)], need);
  }
}

std::vector<double> step_profile(const GreyView& grey, int top, int bottom) {
  std::vector<double> profile(static_cast<std::size_t>(grey.cols()), 0.0);
  add_to_profile(grey, top, bottom, {0, grey.cols()}, profile);
  return profile;
}

}  // namespace frisket
