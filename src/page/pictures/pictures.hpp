#pragma once

#include <vector>

#include "opencv.hpp"
#include "page/pictures/texture.hpp"

namespace frisket {

/// A photographic region of a page.
struct PictureRegion {
  cv::Rect box;  ///< canvas pixels, to the pixel where the picture has an edge
};

/// The photographic regions of a page, from top to bottom, then left to right: photographs, soft images and
/// textures of 8 mm or more on their shorter side, on paper, on a colour or a gradient, bleeding, side by
/// side, with type over them. Type, line art, flat and smooth fields, patterns and tables are none. White
/// parts that run into white paper without an edge are left out: no pixel tells them from paper.
/// `rgb`: CV_8UC3 in R G B order, of any size; `dpi` > 0.
std::vector<PictureRegion> find_pictures(const cv::Mat& rgb, double dpi);

/// The same from a texture map that was made of `rgb` already.
std::vector<PictureRegion> find_pictures(const cv::Mat& rgb, const TextureMap& texture, double dpi);

}  // namespace frisket
