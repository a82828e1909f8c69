#include "page/resampling/axis.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "page/resampling/nearest.hpp"

namespace frisket {
namespace {

constexpr int short_window = 64;      // page pixels
constexpr double rounding_rms = 0.2;  // of 8-bit luma in the top octave, grey levels
constexpr double clear_enough = 0.7;  // of a block grid, to suggest factors
constexpr double long_stretches =
    1.15;  // below it spaces are slow to make: only what is clear gets a closer look
constexpr double clear_dip = 0.8;
constexpr double no_dip = 0.97;  // of the first kernels: the others will make none of it either

constexpr std::array first_kernels{Kernel::bilinear, Kernel::catmull_rom, Kernel::area};
constexpr std::array other_kernels{Kernel::cubic, Kernel::mitchell, Kernel::lanczos3};

/// Root mean square of the columns `from` to `to` of the transform.
double band(const cv::Mat& transform, double from, double to) {
  const cv::Mat part =
      transform.colRange(static_cast<int>(from * short_window), static_cast<int>(to * short_window) + 1);
  return std::sqrt(cv::norm(part, cv::NORM_L2SQR) / static_cast<double>(part.total()));
}

/// The root mean square of the finest band where there is least of it: the calmest fifth of the rows, by
/// tens.
double calm_band(const cv::Mat& transform) {
  constexpr int rows = 10;
  std::vector<double> bands;
  for (int y = 0; y + rows <= transform.rows; y += rows)
    bands.push_back(band(transform.rowRange(y, y + rows), 0.42, 0.5));
  const auto calm = bands.begin() + std::ssize(bands) / 5;
  std::ranges::nth_element(bands, calm);
  return *calm;
}

/// Measures the finest detail in the stretch of 64 columns that has most of it, and where there is least.
void measure_fine_detail(const cv::Mat1f& luma, AxisEvidence& axis) {
  std::array<float, short_window> hann{};
  double energy = 0.0;
  for (std::size_t i = 0; i < hann.size(); ++i) {
    const double angle = 2.0 * std::numbers::pi * static_cast<double>(i) / (short_window - 1);
    hann[i] = static_cast<float>(0.5 - 0.5 * std::cos(angle));
    energy += hann[i] * hann[i];
  }
  axis.calm_detail = 1e9;
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
    const double rounding = std::sqrt(energy) * rounding_rms, detail = finest / rounding;
    axis.calm_detail = std::min(axis.calm_detail, calm_band(transform) / rounding);
    if (detail <= axis.fine_detail) continue;
    axis.fine_detail = detail;
    axis.fine_slope = coarser / std::max(finest, 1e-9);
    axis.near_slope = band(transform, 0.34, 0.41) / std::max(finest, 1e-9);
  }
}

constexpr double genuine_detail = 3.0;  // times rounding
constexpr double beside_noise = 2.5;    // times what is left where the picture is calm
constexpr double above_noise = 6.0;     // times rounding, where all of it is busy; noise is also flat:
constexpr double least_near_slope = 1.1;
constexpr double most_slope = 3.5;      // steeper is the cut-off of a filter
constexpr double least_slope = 1.18;    // scenes fall off with frequency, noise of several roundings does not
constexpr double blocked_detail = 8.0;  // times rounding, where a JPEG's unscaled grid makes some of its own

}  // namespace

bool AxisEvidence::has_page_detail() const {
  if (repeated || fine_slope > most_slope || fine_slope < least_slope) return false;
  const bool blocked = grid.score > 0.9 && std::abs(grid.factor - 1.0) < 0.015;
  if (fine_detail < (blocked ? blocked_detail : genuine_detail)) return false;
  return fine_detail > beside_noise * calm_detail ||
         (fine_detail > above_noise && near_slope > least_near_slope);
}

AxisEvidence look_along(const cv::Mat1f& luma) {
  AxisEvidence axis;
  axis.repeated = repeated_pixels_factor(luma);
  if (axis.repeated) return axis;
  measure_fine_detail(luma, axis);
  axis.spectrum = period_spectrum(luma);
  axis.grid = block_grid(axis.spectrum);
  axis.strips = busiest_strips(luma);
  return axis;
}

std::vector<Candidate> suggested_by(const AxisEvidence& axis) {
  std::vector<Candidate> candidates = candidate_factors(highest_peaks(axis.spectrum));
  if (axis.grid.score > clear_enough)
    for (const double times : {1.0, 2.0, 4.0, 8.0}) {
      const double factor = axis.grid.factor * times;
      if (factor >= least_enlargement && factor <= most_enlargement)
        candidates.push_back({factor, axis.spectrum.near(1.0 / factor)});
    }
  return candidates;
}

std::array<Fit, 2> fits_of(const AxisEvidence& x, const AxisEvidence& y, double factor) {
  const std::array<std::span<const Strip>, 2> axes{x.strips, y.strips};
  // area and bilinear are alike below a factor of 1.8
  std::array<Fit, 2> best = best_fits(axes, factor, std::span(first_kernels).first(factor > 1.8 ? 3 : 2));
  if (std::min(best[0].dip, best[1].dip) >= (factor < long_stretches ? clear_dip : no_dip)) return best;
  const std::array<Fit, 2> other = best_fits(axes, factor, other_kernels);
  for (std::size_t i = 0; i < best.size(); ++i)
    if (other[i].dip < best[i].dip) best[i] = other[i];
  return best;
}

}  // namespace frisket
