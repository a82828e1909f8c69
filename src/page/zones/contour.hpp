#pragma once

#include <functional>

#include "frisket/geometry.hpp"
#include "opencv.hpp"

namespace frisket {

/// The box of a shape to a fraction of a pixel. `box` is the box of its whole pixels, `inside` tells which
/// pixels are its own. On each side the coverage of the outermost row is read from its colour, as it lies
/// between the ground outside and the ink inside: an anti-aliasing renderer paints coverage.
/// Straight sides take the median along the side, pointed and round ones their topmost part.
PixelRect exact_box(const cv::Mat& rgb, const cv::Rect& box, const std::function<bool(int x, int y)>& inside);

}  // namespace frisket
