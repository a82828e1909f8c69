#include "page/one_bit.hpp"

#include <algorithm>

namespace frisket {

bool is_one_bit(const cv::Mat& rgb) {
  bool has_black = false;
  for (int y = 0; y < rgb.rows; ++y) {
    const auto* row = rgb.ptr<cv::Vec3b>(y);
    for (int x = 0; x < rgb.cols; ++x) {
      const bool black = row[x] == cv::Vec3b(0, 0, 0);
      if (!black && row[x] != cv::Vec3b(255, 255, 255)) return false;
      has_black |= black;
    }
  }
  return has_black;
}

}  // namespace frisket
