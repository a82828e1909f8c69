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

/// True where half of the way to a shift is unlike: between its dots a tint is not, a soft picture is.
bool differs_half_way(const cv::Mat1d& all, int x, int y, double usual) {
  constexpr double unlike = 0.5;  // of the usual difference
  const int level = (y - reach) / 2;
  return all(reach + level, x / 2) > unlike * usual;
}

}  // namespace

bool is_tint(const cv::Mat1b& grey) {
  if (std::min(grey.cols, grey.rows) < side + 2 * reach) return false;
  const cv::Mat1d all = differences(grey);
  cv::Mat1d least;
  cv::erode(all, least, cv::Mat::ones(3, 3, CV_8U));
  const double usual = median(all);
  int alike_again = 0;
  for (int y = 1; y + 1 < all.rows; ++y)
    for (int x = 1; x + 1 < all.cols; ++x)
      if (x * x + (y - reach) * (y - reach) >= least_shift * least_shift && all(y, x) <= least(y, x) &&
          all(y, x) < alike * usual && differs_half_way(all, x, y, usual))
        ++alike_again;
  return alike_again >= least_alike;
}

}  // namespace frisket
