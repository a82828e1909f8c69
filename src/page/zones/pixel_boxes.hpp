#pragma once

#include <cmath>

#include "frisket/geometry.hpp"
#include "opencv.hpp"

namespace frisket {

/// The smallest box of whole pixels that holds `box`.
inline cv::Rect whole_pixels(const PixelRect& box) {
  const cv::Point from(static_cast<int>(std::floor(box.x)), static_cast<int>(std::floor(box.y)));
  const cv::Point to(static_cast<int>(std::ceil(box.right())), static_cast<int>(std::ceil(box.bottom())));
  return {from, to};
}

/// Does `box` lie wholly in `area`?
inline bool inside(const cv::Rect& box, const cv::Rect& area) { return (box & area) == box; }

}  // namespace frisket
