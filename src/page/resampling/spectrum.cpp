#include "page/resampling/spectrum.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <numeric>

namespace frisket {
namespace {

constexpr int trend_columns = 41;      // the moving average that takes the picture's own content out
constexpr int padding = 4;             // times the columns: peaks are found to a quarter of a cell
constexpr double median_width = 0.10;  // cycles a pixel
constexpr int median_stride = 8;       // the median is smooth: every eighth point does
constexpr double least_peak = 3.2;
constexpr double least_frequency = 0.03;
constexpr std::size_t most_peaks = 5, most_candidates = 13;

/// Column mean of log(1 + |second difference|).
std::vector<double> bend_profile(const cv::Mat1f& luma) {
  std::vector<double> profile(static_cast<std::size_t>(luma.cols) - 2, 0.0);
  cv::Mat1f bends(1, luma.cols - 2);
  for (int y = 0; y < luma.rows; ++y) {
    const float* row = luma.ptr<float>(y);
    for (int x = 0; x < bends.cols; ++x)
      bends(0, x) = 1.0F + std::abs(row[x] - 2.0F * row[x + 1] + row[x + 2]);
    cv::log(bends, bends);
    for (int x = 0; x < bends.cols; ++x) profile[static_cast<std::size_t>(x)] += bends(0, x);
  }
  for (double& value : profile) value /= luma.rows;
  return profile;
}

/// The values less their moving average; the ends are taken to go on with the last value.
std::vector<double> without_trend(const std::vector<double>& values) {
  const int n = static_cast<int>(values.size()), half = trend_columns / 2;
  const auto at = [&](int i) { return values[static_cast<std::size_t>(std::clamp(i, 0, n - 1))]; };
  double sum = 0.0;
  for (int i = -half; i <= half; ++i) sum += at(i);
  std::vector<double> out(values.size());
  for (int i = 0; i < n; ++i) {
    out[static_cast<std::size_t>(i)] = at(i) - sum / trend_columns;
    sum += at(i + half + 1) - at(i - half);
  }
  return out;
}

std::vector<double> magnitudes(const std::vector<double>& values, int size) {
  cv::Mat1d padded(1, size, 0.0);
  const double last = static_cast<double>(values.size()) - 1.0;
  for (std::size_t i = 0; i < values.size(); ++i) {
    const double hann = 0.5 - 0.5 * std::cos(2.0 * std::numbers::pi * static_cast<double>(i) / last);
    padded(0, static_cast<int>(i)) = values[i] * hann;
  }
  cv::Mat transform;
  cv::dft(padded, transform, cv::DFT_COMPLEX_OUTPUT);
  std::vector<double> out(static_cast<std::size_t>(size) / 2 + 1);
  for (std::size_t i = 0; i < out.size(); ++i) {
    const auto value = transform.at<cv::Vec2d>(0, static_cast<int>(i));
    out[i] = std::hypot(value[0], value[1]);
  }
  return out;
}

/// Median over a wide neighbourhood, at every point; the ends are mirrored.
std::vector<double> local_median(const std::vector<double>& values, int size) {
  std::vector<double> thin;
  for (std::size_t i = 0; i < values.size(); i += median_stride) thin.push_back(values[i]);
  const int n = static_cast<int>(thin.size());
  const int width = std::max(5, static_cast<int>(median_width * size) / median_stride) | 1;
  std::vector<double> medians, part;
  for (int i = 0; i < n; ++i) {
    part.clear();
    for (int k = i - width / 2; k <= i + width / 2; ++k) {
      const int folded = k < 0 ? -k - 1 : k >= n ? 2 * n - 1 - k : k;
      part.push_back(thin[static_cast<std::size_t>(std::clamp(folded, 0, n - 1))]);
    }
    std::ranges::nth_element(part, part.begin() + width / 2);
    medians.push_back(part[static_cast<std::size_t>(width / 2)]);
  }
  std::vector<double> out(values.size());
  for (std::size_t i = 0; i < out.size(); ++i) {
    const std::size_t k = std::min(i / median_stride, thin.size() - 1),
                      next = std::min(k + 1, thin.size() - 1);
    const double share = static_cast<double>(i % median_stride) / median_stride;
    out[i] = medians[k] * (1.0 - share) + medians[next] * share;
  }
  return out;
}

/// The top of the parabola through three points, from the middle one.
double parabola_top(double before, double at, double after) {
  const double bend = before - 2.0 * at + after;
  return std::abs(bend) > 1e-9 ? 0.5 * (before - after) / bend : 0.0;
}

double mean_log(const PeriodSpectrum& spectrum, const std::vector<double>& frequencies, double most,
                double& low) {
  std::vector<double> logs;
  for (const double f : frequencies) logs.push_back(std::log(std::clamp(spectrum.near(f), 0.2, most)));
  if (logs.empty()) return -9.0;
  std::ranges::sort(logs);
  low = logs[logs.size() / 4];
  return std::accumulate(logs.begin(), logs.end(), 0.0) / static_cast<double>(logs.size());
}

/// A picture's own lattice may be finer than the one found: its peaks lie on the teeth in between.
double with_finer_teeth(const PeriodSpectrum& spectrum, double factor) {
  const double pitch = 8.0 * factor;
  for (const int times : {8, 6, 5, 4, 3, 2}) {
    if (pitch * times > 8.0 * most_enlargement * 1.02) continue;
    std::vector<double> between;
    for (int k = 1; k < std::min(3 * times, static_cast<int>(0.49 * pitch * times)); ++k)
      if (k % times != 0) between.push_back(k / (pitch * times));
    double low = 0.0;
    if (mean_log(spectrum, between, 30.0, low) > 0.85 && low > 0.3) return factor * times;
  }
  return factor;
}

}  // namespace

double PeriodSpectrum::near(double frequency) const {
  frequency -= std::floor(frequency);
  frequency = std::min(frequency, 1.0 - frequency);
  const int reach = std::max(1, static_cast<int>(std::lround(0.35 * size / columns)));
  const int at = static_cast<int>(std::lround(frequency * size)), last = static_cast<int>(height.size()) - 1;
  const auto from = height.begin() + std::max(0, at - reach),
             to = height.begin() + std::min(last, at + reach) + 1;
  return *std::max_element(from, to);
}

bool BlockGrid::explains(double other) const {
  if (score < 0.9 || std::abs(other / factor - 1.0) < 0.02) return false;
  const double tooth = 8.0 * factor / other;
  return std::abs(tooth - std::round(tooth)) < 0.06;
}

PeriodSpectrum period_spectrum(const cv::Mat1f& luma) {
  const std::vector<double> bends = without_trend(bend_profile(luma));
  PeriodSpectrum spectrum;
  spectrum.columns = static_cast<int>(bends.size());
  spectrum.size = 1;
  while (spectrum.size < padding * spectrum.columns) spectrum.size *= 2;
  spectrum.height = magnitudes(bends, spectrum.size);
  const std::vector<double> medians = local_median(spectrum.height, spectrum.size);
  for (std::size_t i = 0; i < medians.size(); ++i) spectrum.height[i] /= medians[i] + 1e-9;
  return spectrum;
}

std::vector<SpectrumPeak> highest_peaks(const PeriodSpectrum& spectrum) {
  std::vector<double> left = spectrum.height;
  const int n = static_cast<int>(left.size());
  std::fill_n(left.begin(), static_cast<int>(least_frequency * spectrum.size), 0.0);
  const int reach = std::max(2, static_cast<int>(3.2 * spectrum.size / spectrum.columns));
  std::vector<SpectrumPeak> peaks;
  while (peaks.size() < most_peaks) {
    const int at = static_cast<int>(std::ranges::max_element(left) - left.begin());
    const double height = left[static_cast<std::size_t>(at)];
    if (height < least_peak) break;
    double shift = 0.0;
    if (at > 0 && at < n - 1) {
      const auto near = spectrum.height.begin() + at;
      shift = parabola_top(near[-1], near[0], near[1]);
    }
    peaks.push_back({(at + shift) / spectrum.size, height});
    const int from = std::max(0, at - reach), to = std::min(n, at + reach + 1);
    std::fill(left.begin() + from, left.begin() + to, 0.0);
  }
  return peaks;
}

std::vector<Candidate> candidate_factors(const std::vector<SpectrumPeak>& peaks) {
  std::vector<Candidate> all;
  for (std::size_t i = 0; i < peaks.size(); ++i) {
    const double f = peaks[i].frequency;
    std::vector<double> factors{1 / f, 1 / (1 - f)};
    if (i < 2)
      factors.insert(factors.end(), {2 / f, 2 / (1 - f), 2 / (1 + f), 3 / (1 - f), 3 / (1 + f), 3 / (2 - f)});
    for (const double factor : factors)
      if (factor >= least_enlargement && factor <= most_enlargement) all.push_back({factor, peaks[i].height});
  }
  std::ranges::stable_sort(all, std::greater{}, &Candidate::height);
  std::vector<Candidate> kept;
  for (const Candidate& candidate : all) {
    const bool known = std::ranges::any_of(
        kept, [&](const Candidate& k) { return std::abs(candidate.factor / k.factor - 1.0) <= 0.004; });
    if (!known && kept.size() < most_candidates) kept.push_back(candidate);
  }
  return kept;
}

BlockGrid block_grid(const PeriodSpectrum& spectrum) {
  constexpr double least_pitch = 4.2;
  constexpr int teeth = 7;
  BlockGrid best{1.0, -9.0, 1.0};
  const int last = static_cast<int>(spectrum.height.size()) - 1;
  const double step = 0.5 / spectrum.columns;
  for (double log_pitch = std::log(least_pitch); log_pitch < std::log(8.0 * most_enlargement);
       log_pitch += step) {
    const double pitch = std::exp(log_pitch);
    const int count = std::min(teeth, static_cast<int>(0.49 * pitch));
    double sum = 0.0, least = 9.0;
    for (int k = 1; k <= count; ++k) {
      const int at = std::min(last, static_cast<int>(std::lround(k / pitch * spectrum.size)));
      const double tooth = std::log(std::clamp(spectrum.height[static_cast<std::size_t>(at)], 0.2, 8.0));
      sum += tooth;
      least = std::min(least, tooth);
    }
    const double score =
        sum / count * std::sqrt(count / static_cast<double>(teeth));  // many teeth, not one huge one
    if (least >= -0.2 && score > best.score) best = {pitch / 8.0, score, pitch / 8.0};
  }
  if (std::abs(best.base - 1.0) > 0.015) best.factor = with_finer_teeth(spectrum, best.base);
  return best;
}

}  // namespace frisket
