#pragma once

#include <vector>

#include "opencv.hpp"

namespace frisket {

/// Drawn matter of few pixels, enlarged by repeating them: a logo, type or a screenshot whose edges run in
/// steps.
struct SteppedArt {
  cv::Rect box;                       ///< canvas pixels
  double factor_x = 1, factor_y = 1;  ///< page pixels to a pixel of its own, 2 or more
};

/// Of the things in `boxes` (letters of a line, parts of a drawing, a screenshot) those that were enlarged by
/// repeating pixels; what lies close together on one grid is one. All boundaries of colour in such a thing
/// lie on a grid, and its slants and curves are stairs, or have the mixed rims that an anti-aliased original
/// had. A code of square modules or a drawn bar chart has the grid, but neither of the two. `rgb`: CV_8UC3;
/// `dpi` > 0. The method is our own; a renderer that draws shapes leaves rims of one page pixel, which no
/// grid of two or more can hold.
std::vector<SteppedArt> find_stepped_art(const cv::Mat& rgb, std::vector<cv::Rect> boxes, double dpi);

}  // namespace frisket
