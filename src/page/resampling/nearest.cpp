#include "page/resampling/nearest.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace frisket {
namespace {

constexpr double least_contrast = 0.03;  // grey levels between columns: a flat picture shows no boundaries
constexpr double same_share = 0.002;     // of the contrast: columns that differ less are repeated ones
constexpr double most_off = 1.05;        // pixels: boundaries are rounded to whole pixels
constexpr double most_spread =
    1.1;  // pixels, from the foremost to the hindmost: one, and what the line is off
constexpr double large_spread = 1.25;  // the same from a factor of 3 on, where chance makes no such grid
constexpr double usual_gaps =
    0.95;  // share of gaps that are the factor rounded up or down, below a factor of 2
constexpr double least_factor = 1.04;

std::vector<double> column_steps(const cv::Mat1f& luma) {
  std::vector<double> steps(static_cast<std::size_t>(luma.cols) - 1, 0.0);
  for (int y = 0; y < luma.rows; ++y) {
    const float* row = luma.ptr<float>(y);
    for (int x = 0; x + 1 < luma.cols; ++x)
      steps[static_cast<std::size_t>(x)] += std::abs(row[x + 1] - row[x]);
  }
  for (double& step : steps) step /= luma.rows;
  return steps;
}

double percentile(std::vector<double> values, double share) {
  const auto at =
      values.begin() + static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
  std::ranges::nth_element(values, at);
  return *at;
}

/// The number of each boundary, from 0; numbers are skipped where boundaries are missing because both sides
/// happen to be alike there. Empty where more than a third is missing.
std::vector<double> numbered(const std::vector<double>& boundaries) {
  std::vector<double> gaps;
  for (std::size_t i = 1; i < boundaries.size(); ++i) gaps.push_back(boundaries[i] - boundaries[i - 1]);
  const double usual = percentile(gaps, 0.5);
  double sum = 0.0, count = 0.0;  // the usual gap is s rounded up or down: their mean is s
  for (const double gap : gaps)
    if (std::abs(gap - usual) < most_off) sum += gap, ++count;
  std::vector<double> numbers{0.0};
  const double factor = sum / count;
  for (const double gap : gaps) {  // a gap of k pixels of the picture is k s long, rounded up or down
    const double fewest = std::ceil((gap - 1.0) / factor - 1e-9);
    numbers.push_back(numbers.back() + std::max(1.0, fewest));
  }
  if (3.0 * static_cast<double>(numbers.size()) < 2.0 * numbers.back()) return {};
  return numbers;
}

/// Below a factor of 2 every gap is of one or two pixels. Longer ones are no missing boundaries but the calm
/// between what something else has done to the pixels.
bool gaps_are_usual(const std::vector<double>& boundaries) {
  std::ptrdiff_t usual = 0;
  for (std::size_t i = 1; i < boundaries.size(); ++i) usual += boundaries[i] - boundaries[i - 1] < 2.5;
  return static_cast<double>(usual) >= usual_gaps * static_cast<double>(boundaries.size() - 1);
}

/// The slope of position over number, if all boundaries lie on the line within a pixel.
std::optional<double> slope(const std::vector<double>& boundaries) {
  const std::vector<double> numbers = numbered(boundaries);
  if (numbers.empty()) return std::nullopt;
  const double n = static_cast<double>(boundaries.size());
  double sum_k = 0, sum_b = 0, sum_kk = 0, sum_kb = 0;
  for (std::size_t i = 0; i < boundaries.size(); ++i) {
    const double k = numbers[i];
    sum_k += k, sum_b += boundaries[i], sum_kk += k * k, sum_kb += k * boundaries[i];
  }
  const double factor = (n * sum_kb - sum_k * sum_b) / (n * sum_kk - sum_k * sum_k);
  double foremost = 0.0, hindmost = 0.0;
  for (std::size_t i = 0; i < boundaries.size(); ++i) {
    const double off = boundaries[i] - sum_b / n - factor * (numbers[i] - sum_k / n);
    foremost = std::max(foremost, off), hindmost = std::min(hindmost, off);
  }
  if (foremost - hindmost > (factor < 3.0 ? most_spread : large_spread) || factor < least_factor)
    return std::nullopt;
  return factor >= 2.0 || gaps_are_usual(boundaries) ? std::optional(factor) : std::nullopt;
}

/// True where column `x` is one convex mix of its two neighbours in every row; empty where contrast is too
/// low to tell.
std::optional<bool> is_mixed(const cv::Mat1f& luma, int x) {
  double across = 0, along = 0;
  for (int y = 0; y < luma.rows; ++y) {
    const float* row = luma.ptr<float>(y);
    const double whole = row[x + 1] - row[x - 1], part = row[x] - row[x - 1];
    across += whole * whole, along += whole * part;
  }
  const double contrast = std::sqrt(across / luma.rows);
  if (contrast < 3.0) return std::nullopt;
  const double share = along / across;
  double left = 0;
  for (int y = 0; y < luma.rows; ++y) {
    const float* row = luma.ptr<float>(y);
    const double off = (row[x] - row[x - 1]) - share * (row[x + 1] - row[x - 1]);
    left += off * off;
  }
  return share > 0.02 && share < 0.98 && std::sqrt(left / luma.rows) < 0.5 + 0.02 * contrast;
}

/// True where boundaries come in pairs, one pixel apart, with longer gaps between the pairs. Repeated pixels
/// alone have gaps of two lengths that differ by one.
bool come_in_pairs(const std::vector<int>& boundaries) {
  std::ptrdiff_t ones = 0, twos = 0;
  const std::ptrdiff_t gaps = std::ssize(boundaries) - 1;
  for (std::size_t i = 1; i < boundaries.size(); ++i) {
    ones += boundaries[i] - boundaries[i - 1] == 1;
    twos += boundaries[i] - boundaries[i - 1] == 2;
  }
  return 10 * ones > 3 * gaps && 2 * ones <= gaps + 2 && 10 * twos < gaps;
}

/// Two steps that follow each other become one, in the middle, where the column between them is a mix: the
/// area filter. Empty where too few of them are.
std::optional<std::vector<double>> merged(const cv::Mat1f& luma, const std::vector<int>& boundaries) {
  int told = 0, mixed = 0;
  for (std::size_t i = 0; i + 1 < boundaries.size(); ++i) {
    if (boundaries[i + 1] - boundaries[i] != 1) continue;
    const std::optional<bool> mix = is_mixed(luma, boundaries[i] + 1);
    told += mix.has_value();
    mixed += mix.value_or(false);
  }
  if ((told < 3 || mixed <= 0.8 * told) && !come_in_pairs(boundaries)) return std::nullopt;
  std::vector<double> out;
  for (std::size_t i = 0; i < boundaries.size(); ++i) {
    const bool pair = i + 1 < boundaries.size() && boundaries[i + 1] - boundaries[i] == 1;
    out.push_back(boundaries[i] + (pair ? 0.5 : 0.0));
    i += pair;
  }
  return out.size() > 6 ? std::optional(std::move(out)) : std::nullopt;
}

}  // namespace

std::optional<double> repeated_pixels_factor(const cv::Mat1f& luma) {
  if (luma.cols < 16 || luma.rows < 1) return std::nullopt;
  const std::vector<double> steps = column_steps(luma);
  const double contrast = percentile(steps, 0.97);
  if (contrast < least_contrast) return std::nullopt;
  std::vector<int> boundaries;
  for (std::size_t x = 0; x < steps.size(); ++x)
    if (steps[x] >= std::max(same_share * contrast, 1e-3)) boundaries.push_back(static_cast<int>(x));
  const std::size_t same = steps.size() - boundaries.size();
  if (same < std::max<std::size_t>(6, steps.size() * 3 / 100) || boundaries.size() < 6) return std::nullopt;
  if (const auto positions = merged(luma, boundaries))
    if (const auto factor = slope(*positions)) return factor;
  return slope(std::vector<double>(boundaries.begin(), boundaries.end()));
}

}  // namespace frisket
