#include "page/grounds/tints.hpp"

#include <algorithm>
#include <vector>

namespace frisket {
namespace {

constexpr int reach = 25, side = 64;  // pixels: the longest shift tried, and what is compared
constexpr int least_shift = 4;        // nearer than that anything is like itself
constexpr double alike = 0.35;        // of the usual difference
constexpr int least_alike = 5;        // shifts; boards and corrugated iron have one to four, tints many

/// Mean difference of the middle of `grey` from what lies (dx, dy) beside it.
double difference(const cv::Mat1b& grey, int dx, int dy) {
  const cv::Rect middle((grey.cols - side) / 2, (grey.rows - side) / 2, side, side);
  return cv::norm(grey(middle), grey(middle + cv::Point(dx, dy)), cv::NORM_L1) / (side * side);
}

/// Differences for shifts to the right from 0 and up or down; row `reach` is level.
cv::Mat1d differences(const cv::Mat1b& grey) {
  cv::Mat1d all(2 * reach + 1, reach + 1);
  for (int y = 0; y < all.rows; ++y)
    for (int x = 0; x < all.cols; ++x) all(y, x) = difference(grey, x, y - reach);
  return all;
}

double median(const cv::Mat1d& values) {
  std::vector<double> sorted(values.begin(), values.end());
  const auto middle = sorted.begin() + std::ssize(sorted) / 2;
  std::ranges::nth_element(sorted, middle);
  return *middle;
}

/// True where some of the way to a shift is unlike: between its dots a tint is, a soft picture is not. Not
/// the middle alone: on lattices at 45 degrees a dot may lie there.
bool differs_on_the_way(const cv::Mat1d& all, int x, int y, double usual) {
  constexpr double unlike = 0.5;  // of the usual difference
  constexpr int parts = 4;
  for (int i = 1; i < parts; ++i)
    if (all(reach + (y - reach) * i / parts, x * i / parts) > unlike * usual) return true;
  return false;
}

/// The middle of `rgb` in the channel that varies most: a tint may be as light as the ground beneath it.
cv::Mat1b middle_of(const cv::Mat& rgb) {
  constexpr int whole = side + 2 * reach;
  const cv::Rect middle((rgb.cols - whole) / 2, (rgb.rows - whole) / 2, whole, whole);
  std::vector<cv::Mat1b> channels;
  cv::split(rgb(middle), channels);
  const auto deviation = [](const cv::Mat1b& channel) {
    cv::Scalar mean, deviations;
    cv::meanStdDev(channel, mean, deviations);
    return deviations[0];
  };
  return *std::ranges::max_element(channels, {}, deviation);
}

}  // namespace

bool is_tint(const cv::Mat& rgb) {
  if (std::min(rgb.cols, rgb.rows) < side + 2 * reach) return false;
  const cv::Mat1d all = differences(middle_of(rgb));
  cv::Mat1d least;
  cv::erode(all, least, cv::Mat::ones(3, 3, CV_8U));
  const double usual = median(all);
  int alike_again = 0;
  for (int y = 1; y + 1 < all.rows; ++y)
    for (int x = 1; x + 1 < all.cols; ++x)
      if (x * x + (y - reach) * (y - reach) >= least_shift * least_shift && all(y, x) <= least(y, x) &&
          all(y, x) < alike * usual && differs_on_the_way(all, x, y, usual))
        ++alike_again;
  return alike_again >= least_alike;
}

}  // namespace frisket
