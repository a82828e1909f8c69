#include "page/resampling_axis.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "page/resampling_nearest.hpp"

namespace frisket {
namespace {

constexpr int short_window = 64, long_window = 96, window_count = 3;  // page pixels
constexpr double long_from = 3.5;  // a window of 64 holds too few picture pixels beyond this factor
constexpr double noisy_dip = 0.72, noisy_height = 8.0,
                 noisy_residual = 1.6;  // a strong peak makes up for noise
constexpr double no_dip = 1.0;          // in the busiest window: the factor is not worth a closer look
constexpr double rounding_rms = 0.2;    // of 8-bit luma in the top octave, grey levels

constexpr std::array first_kernels{Kernel::bilinear, Kernel::catmull_rom, Kernel::area};
constexpr std::array other_kernels{Kernel::cubic, Kernel::mitchell, Kernel::lanczos3, Kernel::lanczos4,
                                   Kernel::area};
constexpr std::array check_kernels{Kernel::bilinear, Kernel::catmull_rom, Kernel::mitchell, Kernel::lanczos3};

Fit fit_any_kernel(const std::vector<RowWindow>& windows, double factor) {
  const std::span<const Kernel> common = std::span(first_kernels).first(factor > long_from ? 3 : 2);
  const Fit glance = best_fit(std::span(windows).first(1), factor, common);
  if (glance.dip > no_dip) return glance;
  // area and bilinear are alike below a factor of 1.8
  const std::span<const Kernel> first = std::span(first_kernels).first(factor > 1.8 ? 3 : 2);
  Fit fit = best_fit(windows, factor, first);
  if (fit.dip >= 0.92) return fit;
  const Fit other = best_fit(windows, factor, other_kernels);
  return other.dip < fit.dip ? other : fit;
}

/// Root mean square of the columns `from` to `to` of the transform.
double band(const cv::Mat& transform, double from, double to) {
  const cv::Mat part =
      transform.colRange(static_cast<int>(from * short_window), static_cast<int>(to * short_window) + 1);
  return std::sqrt(cv::norm(part, cv::NORM_L2SQR) / static_cast<double>(part.total()));
}

/// Measures the finest detail in the stretch of 64 columns that has most of it.
void measure_fine_detail(const cv::Mat1f& luma, AxisEvidence& axis) {
  std::array<float, short_window> hann{};
  double energy = 0.0;
  for (std::size_t i = 0; i < hann.size(); ++i) {
    const double angle = 2.0 * std::numbers::pi * static_cast<double>(i) / (short_window - 1);
    hann[i] = static_cast<float>(0.5 - 0.5 * std::cos(angle));
    energy += hann[i] * hann[i];
  }
  for (int x = 0; x + short_window <= luma.cols; x += short_window) {
    cv::Mat1f part = luma.colRange(x, x + short_window).clone();
    for (int y = 0; y < part.rows; ++y) {
      float* row = part.ptr<float>(y);
      const float mean = static_cast<float>(cv::mean(part.row(y))[0]);
      for (int i = 0; i < short_window; ++i) row[i] = (row[i] - mean) * hann[static_cast<std::size_t>(i)];
    }
    cv::Mat transform;
    cv::dft(part, transform, cv::DFT_ROWS | cv::DFT_COMPLEX_OUTPUT);
    const double finest = band(transform, 0.42, 0.5), coarser = band(transform, 0.25, 0.33);
    const double detail = finest / std::sqrt(energy) / rounding_rms;
    if (detail <= axis.fine_detail) continue;
    axis.fine_detail = detail;
    axis.fine_slope = coarser / std::max(finest, 1e-9);
  }
}

/// A picture that was JPEG at the page's own resolution: blocks of k live coefficients look like factors of 8
/// / k.
bool looks_like_blocks(const BlockGrid& grid, double factor) {
  return std::abs(grid.factor - 1.0) < 0.012 && grid.score > 0.9 && factor < 7.5 && grid.explains(factor);
}

bool is_convincing(const AxisEvidence& axis, const Trial& trial) {
  const bool tooth = axis.grid.explains(trial.factor);
  const Fit& fit = trial.fit;
  const bool strict = fit.dip < clear_dip && fit.residual < rounding_floor &&
                      !(tooth && (fit.dip > 0.45 || fit.residual > 0.5));
  const bool noisy =
      fit.dip < noisy_dip && trial.height > noisy_height && fit.residual < noisy_residual && !tooth;
  if (!strict && !noisy) return false;
  if (looks_like_blocks(axis.grid, trial.factor)) return false;
  // the dip of a small factor lives in the top octave: it needs energy there
  return axis.fine_detail >= 1.3 || (trial.factor >= 1.95 || (trial.factor >= 1.5 && fit.dip <= 0.5));
}

Trial try_factor(AxisEvidence& axis, double factor, double height) {
  Trial trial{factor, height, {}};
  const std::vector<RowWindow>& windows = axis.windows(factor);
  if (windows.empty()) return trial;
  trial.fit = fit_any_kernel(windows, factor);
  return trial;
}

std::vector<Candidate> all_candidates(const AxisEvidence& axis) {
  std::vector<Candidate> candidates = candidate_factors(highest_peaks(axis.spectrum));
  if (axis.grid.score > 0.7)
    for (const double times : {1.0, 2.0, 4.0, 8.0}) {
      const double factor = axis.grid.factor * times;
      if (factor >= least_enlargement && factor <= most_enlargement)
        candidates.push_back({factor, axis.spectrum.near(1.0 / factor)});
    }
  return candidates;
}

/// Of trials within 3 % of each other, the one that fits best; in ascending order of factor.
std::vector<Trial> clusters(std::vector<Trial> trials) {
  const auto cost = [](const Trial& t) { return t.fit.dip / (1.0 + 0.02 * std::min(t.height, 20.0)); };
  std::ranges::stable_sort(trials, {}, &Trial::factor);
  std::vector<Trial> best;
  double last = 0.0;
  for (const Trial& trial : trials) {
    if (best.empty() || trial.factor / last >= 1.03)
      best.push_back(trial);
    else if (cost(trial) < cost(best.back()))
      best.back() = trial;
    last = trial.factor;
  }
  return best;
}

/// The largest factor that fits: what was enlarged by s also lies in the space of every smaller factor of its
/// grid.
Trial largest_that_fits(const std::vector<Trial>& trials) {
  double least_dip = 1e9;
  for (const Trial& trial : trials) least_dip = std::min(least_dip, trial.fit.dip);
  Trial largest;
  for (const Trial& trial : trials) {
    const bool strong =
        trial.fit.dip < 1.8 * least_dip || (trial.fit.dip < clear_dip && trial.fit.residual < rounding_floor);
    if (strong && trial.factor > largest.factor) largest = trial;
  }
  return largest;
}

/// The peak of the true grid may be too weak to be a candidate where its second or third harmonic is not.
Trial with_weak_fundamental(AxisEvidence& axis, const Trial& found) {
  for (const double times : {4.0, 3.0, 2.0}) {
    const double factor = found.factor * times;
    if (factor > most_enlargement) continue;
    const Trial trial = try_factor(axis, factor, axis.spectrum.near(1.0 / factor));
    if (is_convincing(axis, trial) && trial.fit.dip < clear_dip &&
        trial.fit.residual < std::max(1.5 * found.fit.residual, 0.35))
      return trial;
  }
  return found;
}

constexpr double genuine_detail = 3.0;  // times rounding
constexpr double surely_detail = 6.0;   // the same where it may be noise
constexpr double most_slope = 3.5;      // steeper is the cut-off of a filter
constexpr double least_slope = 1.18;    // scenes fall off with frequency, noise of several roundings does not

}  // namespace

bool AxisEvidence::has_page_detail() const {
  return !repeated && fine_slope < most_slope &&
         fine_detail > (fine_slope > least_slope ? genuine_detail : surely_detail);
}

const std::vector<RowWindow>& AxisEvidence::windows(double factor) const {
  return factor > long_from && !long_windows.empty() ? long_windows : short_windows;
}

AxisEvidence look_along(const cv::Mat1f& luma) {
  AxisEvidence axis;
  axis.repeated = repeated_pixels_factor(luma);
  if (axis.repeated) return axis;
  measure_fine_detail(luma, axis);
  axis.spectrum = period_spectrum(luma);
  axis.grid = block_grid(axis.spectrum);
  axis.short_windows = busiest_windows(luma, short_window, window_count);
  axis.long_windows = busiest_windows(luma, long_window, window_count);

  std::vector<Trial> passed;
  for (const Candidate& candidate : all_candidates(axis)) {
    const Trial trial = try_factor(axis, candidate.factor, candidate.height);
    if (is_convincing(axis, trial)) passed.push_back(trial);
    const bool deeper = !axis.guess || trial.fit.dip < axis.guess->fit.dip;
    if (deeper && trial.fit.residual < rounding_floor && !axis.grid.explains(trial.factor))
      axis.guess = trial;
  }
  if (!passed.empty()) axis.found = with_weak_fundamental(axis, largest_that_fits(clusters(passed)));
  return axis;
}

Trial look_for(const AxisEvidence& axis, double factor) {
  Trial trial{factor, 0.0, {}};
  if (axis.repeated) return trial;
  trial.height = axis.spectrum.near(1.0 / factor);
  trial.fit = best_fit(axis.windows(factor), factor, check_kernels);
  return trial;
}

}  // namespace frisket
