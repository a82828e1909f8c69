#pragma once

#include "opencv.hpp"

namespace pictures {

/// Each makes one picture, CV_8UC3 in R G B order, `size` in pixels; the same bytes for the same size.
cv::Mat estuary(cv::Size size);     ///< a tidal river at dusk, upright: calm sky above for a title
cv::Mat still_life(cv::Size size);  ///< a shelf of glazed pots by window light, wide
cv::Mat tea_bowl(cv::Size size);    ///< one bowl, close
cv::Mat crackle(cv::Size size);     ///< a celadon glaze with its net of cracks, very close
cv::Mat planks(cv::Size size);      ///< weathered boards with a nail

}  // namespace pictures
