#include "page/pictures/one_bit.hpp"

#include <algorithm>

namespace frisket {
namespace {

constexpr int least_steps =
    200;  // of a border; boxes have four corners each, a line of small type has hundreds

}  // namespace

bool is_one_bit(const cv::Mat& rgb) {
  const cv::Vec3b black(0, 0, 0), white(255, 255, 255);
  int steps = 0;
  for (int y = 0; y < rgb.rows; ++y) {
    const auto *row = rgb.ptr<cv::Vec3b>(y), *above = rgb.ptr<cv::Vec3b>(std::max(0, y - 1));
    for (int x = 0; x < rgb.cols; ++x) {
      if (row[x] != black && row[x] != white) return false;
      // A border that goes down here and along beside it: a slant, a curve, or the corner of a box.
      steps += x > 0 && row[x] != row[x - 1] && (above[x] != row[x]) != (above[x - 1] != row[x - 1]);
    }
  }
  return steps >= least_steps;
}

}  // namespace frisket
