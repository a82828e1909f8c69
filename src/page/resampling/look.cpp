#include "page/resampling/look.hpp"

#include <algorithm>
#include <cstdlib>

namespace frisket {
namespace {

constexpr int looked_at_side = 512;  // more adds time, hardly evidence
constexpr int cell = 64;             // grid on which the busiest square is looked for

cv::Mat1f luma_of(const cv::Mat& rgb) {
  cv::Mat floating, mixed;
  rgb.convertTo(floating, CV_32F);
  // BT.601 weights: a linear mix, which also cancels the enlarged colour of 4:2:0 JPEG
  cv::transform(floating, mixed, cv::Matx13f(0.299F, 0.587F, 0.114F));
  return mixed;
}

/// Activity of each whole cell: the sum of |second difference| along both axes, on every second row.
cv::Mat1d cell_activity(const cv::Mat& green) {
  cv::Mat1d cells(green.rows / cell, green.cols / cell, 0.0);
  for (int y = 1; y + 1 < cells.rows * cell; y += 2) {
    const std::uint8_t *above = green.ptr(y - 1), *row = green.ptr(y), *below = green.ptr(y + 1);
    for (int x = 1; x + 1 < cells.cols * cell; ++x)
      cells(y / cell, x / cell) +=
          std::abs(row[x - 1] - 2 * row[x] + row[x + 1]) + std::abs(above[x] - 2 * row[x] + below[x]);
  }
  return cells;
}

/// The square (or what fits of it) with most activity.
cv::Rect busiest_part(const cv::Mat& rgb) {
  const cv::Size size(std::min(rgb.cols, looked_at_side), std::min(rgb.rows, looked_at_side));
  if (size == rgb.size()) return {cv::Point(), size};
  cv::Mat green;
  cv::extractChannel(rgb, green, 1);
  cv::Mat1d sums;
  cv::integral(cell_activity(green), sums, CV_64F);
  const int wide = size.width / cell, high = size.height / cell;
  cv::Point best;
  double most = -1.0;
  for (int i = 0; i + high < sums.rows; ++i)
    for (int j = 0; j + wide < sums.cols; ++j) {
      const double sum = sums(i + high, j + wide) - sums(i, j + wide) - sums(i + high, j) + sums(i, j);
      if (sum > most) most = sum, best = {j * cell, i * cell};
    }
  return {best, size};
}

}  // namespace

PictureLook look_at_picture(const cv::Mat& rgb) {
  PictureLook look;
  look.luma = luma_of(rgb(busiest_part(rgb)));
  cv::Mat1f turned;
  cv::transpose(look.luma, turned);
  look.x = look_along(look.luma);
  look.y = look_along(turned);
  return look;
}

}  // namespace frisket
