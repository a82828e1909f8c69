#pragma once

#include <optional>

#include "opencv.hpp"

namespace frisket {

/// Page pixels to a picture pixel along x, where the picture was enlarged by repeating pixels, or by area
/// (one mixed column between two repeated ones); empty otherwise. Columns that equal the one before them give
/// the boundaries away: numbered from one side, their positions lie on a line whose slope is the factor
/// (Suwendi, Allebach, Nearest-neighbor and bilinear resampling factor estimation to detect blockiness or
/// blurriness of an image, J. Electronic Imaging 17(2), 2008). `luma`: 0 to 255, at least 16 columns.
std::optional<double> repeated_pixels_factor(const cv::Mat1f& luma);

}  // namespace frisket
