#include "page/pictures/pixel_grid.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>

namespace frisket {
namespace {

constexpr int least_boundaries = 7;
constexpr double most_spread = 1.1;     // page pixels: rounding, and what the fit is off
constexpr double least_excluded = 8.0;  // bits: less is hardly anything
constexpr double least_pitch = 1.9, most_pitch = 64.0;

int least_gap(const std::vector<int>& boundaries) {
  int least = boundaries[1] - boundaries[0];
  for (std::size_t i = 2; i < boundaries.size(); ++i)
    least = std::min(least, boundaries[i] - boundaries[i - 1]);
  return least;
}

/// How well boundaries agree on one phase of a grid: 1 where all are on it.
double agreement(const std::vector<int>& boundaries, double pitch) {
  std::complex<double> sum;
  for (const int at : boundaries) sum += std::polar(1.0, 2.0 * std::numbers::pi * at / pitch);
  return std::abs(sum) / static_cast<double>(boundaries.size());
}

/// A single pixel's gap is the pitch, rounded up or down.
double best_pitch(const std::vector<int>& boundaries, int gap) {
  const double length = boundaries.back() - boundaries.front();
  double best = gap, most = 0.0;
  for (double pitch = std::max(least_pitch, gap - 0.99); pitch < gap + 1.0; pitch *= 1.0 + 0.2 / length)
    if (const double found = agreement(boundaries, pitch); found > most) most = found, best = pitch;
  return best;
}

/// The line through position over number, and how far boundaries lie off it, from the foremost to the
/// hindmost.
struct Line {
  PixelGrid grid;
  double spread = 0;
};

Line fit_line(const std::vector<int>& boundaries, double pitch) {
  const double n = static_cast<double>(boundaries.size());
  std::vector<double> numbers;
  double sum_k = 0, sum_b = 0, sum_kk = 0, sum_kb = 0, last = boundaries.front(), number = 0;
  for (const int at : boundaries) {  // from one to the next, so that a pitch slightly off does no harm
    number += std::round((at - last) / pitch);
    last = at;
    numbers.push_back(number);
    sum_k += number, sum_b += at, sum_kk += number * number, sum_kb += number * at;
  }
  Line line;
  line.grid.pitch = (n * sum_kb - sum_k * sum_b) / (n * sum_kk - sum_k * sum_k);
  line.grid.start = (sum_b - line.grid.pitch * sum_k) / n;
  double foremost = -1e9, hindmost = 1e9;
  for (std::size_t i = 0; i < numbers.size(); ++i) {
    const double off = boundaries[i] - line.grid.start - line.grid.pitch * numbers[i];
    foremost = std::max(foremost, off), hindmost = std::min(hindmost, off);
  }
  line.spread = foremost - hindmost;
  return line;
}

}  // namespace

std::vector<int> PixelGrid::middles(int length) const {
  std::vector<int> middles;
  for (double at = start + (std::ceil(-start / pitch - 0.5) + 0.5) * pitch; at < length; at += pitch)
    if (at >= 0.0) middles.push_back(static_cast<int>(at));
  return middles;
}

std::optional<PixelGrid> fit_pixel_grid(const std::vector<int>& boundaries) {
  if (std::ssize(boundaries) < least_boundaries) return std::nullopt;
  const int gap = least_gap(boundaries);
  if (gap < 2 || gap > most_pitch) return std::nullopt;
  Line line = fit_line(boundaries, best_pitch(boundaries, gap));
  if (line.spread > most_spread || line.grid.pitch < least_pitch) return std::nullopt;
  // each boundary beyond the first two falls on one of the grid's places by chance once in a pitch
  line.grid.excluded =
      static_cast<double>(boundaries.size() - 2) * std::log2(line.grid.pitch / (line.spread + 1.0));
  return line.grid.excluded < least_excluded ? std::nullopt : std::optional(line.grid);
}

}  // namespace frisket
