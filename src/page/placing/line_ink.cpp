#include "page/placing/line_ink.hpp"

#include <algorithm>
#include <cmath>

namespace frisket {
namespace {

constexpr double window_px = 6.0;               // that are averaged: the grain of pictures is finer
constexpr double faintest = 6.0, plain = 24.0;  // levels: contrast of a line on flat ground, and on any
constexpr double grains = 4.0;                  // of the ground's own unevenness
constexpr double least_cover = 0.3;             // of a pixel by a line as thin as 0.1 mm, at 300 dpi
constexpr double other_ink = 0.25;              // of the way from ground to ink that a mixture may lie beside

cv::Vec3d mean_colour(const cv::Mat& rgb, const LineStretch& line) {
  cv::Vec3d sum(0, 0, 0);
  int count = 0;
  for (double at = line.from; at < line.to; at += 1.0, ++count)
    sum += cv::Vec3d(pixel_along(rgb, line.upright, at, line.place + line.slope * at));
  return sum / std::max(1, count);
}

double unevenness(const cv::Mat& rgb, const LineStretch& line, const cv::Vec3d& mean) {
  double sum = 0;
  int count = 0;
  for (double at = line.from; at < line.to; at += 1.0, ++count)
    sum += colour_step(pixel_along(rgb, line.upright, at, line.place + line.slope * at), mean);
  return sum / std::max(1, count);
}

/// A short piece of a stretch: the mean colour of what lies on both sides of it and of the pixels on it.
struct Window {
  cv::Vec3d before, after;
  std::array<cv::Vec3d, 3> on;  ///< a line may lie a pixel aside
  double grain;
};

Window window_at(const cv::Mat& rgb, const LineStretch& piece, int widest) {
  const double aside = widest / 2.0 + 2.0;
  const LineStretch left = piece.beside(-aside), right = piece.beside(aside);
  Window window{mean_colour(rgb, left), mean_colour(rgb, right), {}, 0};
  for (int i = 0; i < 3; ++i) window.on[i] = mean_colour(rgb, piece.beside(i - 1.0));
  window.grain = std::max(unevenness(rgb, left, window.before), unevenness(rgb, right, window.after));
  return window;
}

bool has_line(const Window& w) {
  const double least = std::clamp(grains * w.grain, faintest, plain);
  return std::ranges::any_of(w.on, [&](const cv::Vec3d& here) {
    for (int i = 0; i < 3; ++i)
      if (std::min(w.before[i], w.after[i]) - here[i] >= least ||
          here[i] - std::max(w.before[i], w.after[i]) >= least)
        return true;
    return false;
  });
}

bool is_mixed(const cv::Vec3d& here, const cv::Vec3d& ground, const cv::Vec3d& ink) {
  const cv::Vec3d whole = ink - ground, part = here - ground;
  const double cover = part.dot(whole) / std::max(1.0, whole.dot(whole));
  return cover >= least_cover && cv::norm(part - cover * whole) <= other_ink * cv::norm(whole);
}

bool has_ink(const Window& w, const cv::Vec3d& ink) {
  if (colour_step(w.before, ink) < plain || colour_step(w.after, ink) < plain) return false;
  return std::ranges::any_of(w.on, [&](const cv::Vec3d& here) {
    return is_mixed(here, w.before, ink) && is_mixed(here, w.after, ink);
  });
}

template <class Seen>
double share_of_windows(const cv::Mat& rgb, LineStretch line, int widest, Seen seen) {
  int windows = 0, lined = 0;
  const double end = line.to;
  for (; line.from < end; line.from += window_px, ++windows) {
    line.to = std::min(end, line.from + window_px);
    lined += seen(window_at(rgb, line, widest));
  }
  return windows > 0 ? lined / static_cast<double>(windows) : 0.0;
}

}  // namespace

LineStretch LineStretch::beside(double by) const {
  LineStretch other = *this;
  other.place += by;
  return other;
}

cv::Vec3b pixel_along(const cv::Mat& rgb, bool upright, double along, double across) {
  const int a = std::clamp(static_cast<int>(along), 0, (upright ? rgb.rows : rgb.cols) - 1);
  const int b = std::clamp(static_cast<int>(across), 0, (upright ? rgb.cols : rgb.rows) - 1);
  return upright ? rgb.at<cv::Vec3b>(a, b) : rgb.at<cv::Vec3b>(b, a);
}

double colour_step(const cv::Vec3d& a, const cv::Vec3d& b) {
  return std::max({std::abs(a[0] - b[0]), std::abs(a[1] - b[1]), std::abs(a[2] - b[2])});
}

cv::Vec3b darkest_colour(const cv::Mat& rgb, const LineStretch& line) {
  cv::Vec3b darkest(255, 255, 255);
  const auto lightness = [](const cv::Vec3b& colour) { return colour[0] + colour[1] + colour[2]; };
  for (double at = line.from + 0.5; at < line.to; at += 1.0) {
    const cv::Vec3b here = pixel_along(rgb, line.upright, at, line.place + line.slope * at);
    if (lightness(here) < lightness(darkest)) darkest = here;
  }
  return darkest;
}

double line_share(const cv::Mat& rgb, const LineStretch& line, int widest) {
  return share_of_windows(rgb, line, widest, has_line);
}

double ink_share(const cv::Mat& rgb, const LineStretch& line, int widest, const cv::Vec3b& ink) {
  return share_of_windows(rgb, line, widest, [&](const Window& w) { return has_ink(w, ink); });
}

}  // namespace frisket
