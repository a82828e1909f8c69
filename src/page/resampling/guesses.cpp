#include "page/resampling/guesses.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace frisket {
namespace {

constexpr double apart = 0.003;       // nearer guesses are one
constexpr double clear_grid = 0.9;    // score of a block grid: mean log height over its teeth
constexpr double likely_grid = 0.7;   // enough to be careful
constexpr double same_pitch = 0.012;  // relative: what the pitch is measured to
constexpr double last_tooth = 7.5;    // of a block of 8: the eighth is the picture pixel itself

bool near(double a, double b, double within) { return std::abs(a / b - 1.0) < within; }

bool is_named(const BlockGrid& grid, double factor) {
  if (grid.score < clear_grid || near(grid.factor, 1.0, 0.03)) return false;
  return std::ranges::any_of(std::array{1.0, 2.0, 4.0, 8.0},
                             [&](double times) { return near(grid.factor * times, factor, same_pitch); });
}

/// Peaks at k / 8 look like factors of 8 / k; 16 px is the block of JPEG's colour.
bool is_unscaled_tooth(const BlockGrid& grid, double factor) {
  const bool colour = near(grid.factor, 2.0, 0.015);
  if (grid.score < likely_grid || factor > 7.6 || !(near(grid.factor, 1.0, 0.015) || colour)) return false;
  const double tooth = 8.0 / factor;
  return std::abs(tooth - std::round(tooth)) < 0.012 * tooth && !(colour && near(factor, 2.0, 0.02));
}

bool is_other_tooth(const BlockGrid& grid, double factor) {
  if (grid.score < clear_grid || is_named(grid, factor)) return false;
  const double tooth = 8.0 * grid.factor / factor;
  return tooth < last_tooth && std::abs(tooth - std::round(tooth)) < 0.05;
}

AxisSays ask(const AxisEvidence& axis, double factor, const Fit& fit) {
  return {axis.spectrum.near(1.0 / factor),
          fit,
          is_named(axis.grid, factor),
          axis.grid.score > 1.0 && near(axis.grid.factor, factor, 0.01),
          is_unscaled_tooth(axis.grid, factor),
          is_other_tooth(axis.grid, factor),
          axis.fine_detail};
}

}  // namespace

std::vector<Guess> guesses_of(const AxisEvidence& x, const AxisEvidence& y) {
  std::vector<double> factors;
  for (const AxisEvidence* axis : {&x, &y})
    for (const Candidate& candidate : suggested_by(*axis)) factors.push_back(candidate.factor);
  std::ranges::sort(factors);
  std::vector<Guess> guesses;
  for (const double factor : factors) {
    if (!guesses.empty() && factor / guesses.back().factor - 1.0 < apart) continue;
    const std::array<Fit, 2> fits = fits_of(x, y, factor);
    guesses.push_back({factor, ask(x, factor, fits[0]), ask(y, factor, fits[1])});
  }
  return guesses;
}

}  // namespace frisket
