#include "page/resampling/turned_grid.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <vector>

namespace frisket {
namespace {

constexpr int looked_at = 256, transformed = 512;  // pixels a side; padded, to find peaks between cells
constexpr double least_frequency = 0.07;           // cycles a pixel: below it lies the scene itself
constexpr double most_frequency = 0.5;             // beyond it a peak may be the fold of another
constexpr double off_axis = 0.012;                 // cycles a pixel: upright grids have others to find them
constexpr double no_chance = 15.0;  // times the median around: photographs as they are reach 13
constexpr double clear = 45.0;
constexpr int most_peaks = 8, peak_reach = 6;  // cells
constexpr int rings = 48;                      // up to the corner of the spectrum

struct Peak {
  double fx, fy, height;
  double frequency() const { return std::hypot(fx, fy); }
};

/// log(1 + |Laplacian|), without its mean, under a Hann window, padded.
cv::Mat1f bends(const cv::Mat1f& luma) {
  cv::Mat1f laplacian, padded(transformed, transformed, 0.0F);
  cv::Laplacian(luma, laplacian, CV_32F);
  cv::absdiff(laplacian, 0.0, laplacian);
  laplacian += 1.0F;
  cv::log(laplacian, laplacian);
  laplacian -= cv::mean(laplacian)[0];
  cv::Mat window;
  cv::createHanningWindow(window, laplacian.size(), CV_32F);
  cv::multiply(laplacian, window, padded(cv::Rect(cv::Point(), laplacian.size())));
  return padded;
}

/// Magnitudes of the half plane of frequencies with x from 0 to 1/2 and y from 0 to 1 (above 1/2: negative),
/// over the median at the same distance from 0.
cv::Mat1f heights(const cv::Mat1f& values) {
  cv::Mat transform, magnitude;
  cv::dft(values, transform, cv::DFT_COMPLEX_OUTPUT);
  std::array<cv::Mat, 2> parts;
  cv::split(transform.colRange(0, transformed / 2 + 1), parts.data());
  cv::magnitude(parts[0], parts[1], magnitude);
  cv::Mat1f out = magnitude;
  const auto ring = [](int x, int y) {
    const double fy = std::min(y, transformed - y), most = transformed / 2 * std::numbers::sqrt2;
    return std::min(rings - 1, static_cast<int>(std::hypot(x, fy) / most * rings));
  };
  std::array<std::vector<float>, rings> around;
  for (int y = 0; y < out.rows; ++y)
    for (int x = 0; x < out.cols; ++x) around[static_cast<std::size_t>(ring(x, y))].push_back(out(y, x));
  std::array<float, rings> medians{};
  for (std::size_t i = 0; i < around.size(); ++i) {
    const auto middle = around[i].begin() + std::ssize(around[i]) / 2;
    std::ranges::nth_element(around[i], middle);
    medians[i] = std::max(*middle, 1e-6F);
  }
  for (int y = 0; y < out.rows; ++y)
    for (int x = 0; x < out.cols; ++x) out(y, x) /= medians[static_cast<std::size_t>(ring(x, y))];
  return out;
}

double signed_frequency(int cell) {
  return (cell > transformed / 2 ? cell - transformed : cell) / double(transformed);
}

/// The highest peaks off the axes, highest first.
std::vector<Peak> highest(cv::Mat1f height) {
  for (int y = 0; y < height.rows; ++y)
    for (int x = 0; x < height.cols; ++x) {
      const double fx = signed_frequency(x), fy = signed_frequency(y);
      if (std::min(std::abs(fx), std::abs(fy)) < off_axis || std::hypot(fx, fy) < least_frequency)
        height(y, x) = 0.0F;
    }
  std::vector<Peak> peaks;
  while (std::ssize(peaks) < most_peaks) {
    double most = 0.0;
    cv::Point at;
    cv::minMaxLoc(height, nullptr, &most, nullptr, &at);
    if (most < no_chance) break;
    peaks.push_back({signed_frequency(at.x), signed_frequency(at.y), most});
    const cv::Rect around(at.x - peak_reach, at.y - peak_reach, 2 * peak_reach + 1, 2 * peak_reach + 1);
    height(around & cv::Rect(cv::Point(), height.size())) = 0.0F;
  }
  return peaks;
}

/// True where two peaks are the two axes of one grid.
bool are_axes(const Peak& a, const Peak& b) {
  const double length = a.frequency() * b.frequency();
  return std::abs(a.fx * b.fx + a.fy * b.fy) < 0.03 * length &&
         std::abs(a.frequency() / b.frequency() - 1.0) < 0.03 &&
         std::max(a.frequency(), b.frequency()) < most_frequency;
}

}  // namespace

std::optional<TurnedGrid> find_turned_grid(const cv::Mat1f& luma) {
  const cv::Size size(std::min(luma.cols, looked_at), std::min(luma.rows, looked_at));
  const cv::Rect middle(cv::Point((luma.cols - size.width) / 2, (luma.rows - size.height) / 2), size);
  const std::vector<Peak> peaks = highest(heights(bends(luma(middle))));
  if (peaks.empty()) return std::nullopt;
  TurnedGrid grid;
  double lowest = most_frequency;  // higher pairs are harmonics
  for (std::size_t i = 0; i < peaks.size(); ++i)
    for (std::size_t k = i + 1; k < peaks.size(); ++k) {
      if (!are_axes(peaks[i], peaks[k]) || std::min(peaks[i].height, peaks[k].height) < clear) continue;
      lowest = std::min(lowest, (peaks[i].frequency() + peaks[k].frequency()) / 2.0);
      grid.factor = 1.0 / lowest;
    }
  return grid;
}

}  // namespace frisket
