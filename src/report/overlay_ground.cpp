#include "report/overlay_ground.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace frisket {
namespace {

/// Where each of `count` equal parts of a line of `length` pixels begins, and the end of the last.
std::vector<double> borders(int length, int count) {
  std::vector<double> at;
  for (int i = 0; i <= count; ++i) at.push_back(static_cast<double>(length) * i / count);
  return at;
}

/// Calls `with(pixel, share)` for every pixel between `begin` and `end`; `share` is the part of it that lies
/// there.
template <class With>
void for_pixels(double begin, double end, With with) {
  constexpr double hair = 1e-9;  // of a pixel: rounding of the borders
  for (int pixel = static_cast<int>(begin + hair); pixel < end - hair; ++pixel)
    with(pixel, static_cast<float>(std::min(end, pixel + 1.0) - std::max(begin, static_cast<double>(pixel))));
}

/// Shrinks the rows that become one row of the result.
class RowShrinker {
 public:
  RowShrinker(const cv::Mat& rgb, int width)
      : rgb_(rgb), columns_(borders(rgb.cols, width)), sums_(static_cast<std::size_t>(rgb.cols)) {}

  void shrink(double top, double bottom, std::uint8_t* result) {
    std::ranges::fill(sums_, 0.0F);
    for_pixels(top, bottom, [&](int y, float share) { add_row(y, share); });
    for (std::size_t x = 0; x + 1 < columns_.size(); ++x) {
      float sum = 0;
      for_pixels(columns_[x], columns_[x + 1],
                 [&](int pixel, float share) { sum += share * sums_[static_cast<std::size_t>(pixel)]; });
      const double area = (columns_[x + 1] - columns_[x]) * (bottom - top);
      result[x] = cv::saturate_cast<std::uint8_t>(sum / area);
    }
  }

 private:
  /// A row on the border of two rows of the result is asked for twice, one time after the other.
  void add_row(int y, float share) {
    if (y != row_) cv::cvtColor(rgb_.row(y), grey_, cv::COLOR_RGB2GRAY);
    row_ = y;
    const std::uint8_t* grey = grey_.ptr();
    float* sums = sums_.data();
    for (std::size_t x = 0; x < sums_.size(); ++x) sums[x] += share * static_cast<float>(grey[x]);
  }

  const cv::Mat& rgb_;
  std::vector<double> columns_;
  std::vector<float> sums_;  ///< by column of the page
  cv::Mat grey_;             ///< of row `row_`
  int row_ = -1;
};

}  // namespace

cv::Mat shrunk_grey(const cv::Mat& rgb, cv::Size size) {
  cv::Mat grey(size, CV_8UC1);
  const std::vector<double> rows = borders(rgb.rows, size.height);
  cv::parallel_for_(cv::Range(0, size.height), [&](const cv::Range& part) {
    RowShrinker shrinker(rgb, size.width);
    for (int y = part.start; y < part.end; ++y)
      shrinker.shrink(rows[static_cast<std::size_t>(y)], rows[static_cast<std::size_t>(y) + 1], grey.ptr(y));
  });
  return grey;
}

}  // namespace frisket
