#pragma once

#include <vector>

#include "page/pictures/pictures.hpp"
#include "page/resampling/resampling.hpp"

namespace frisket {

/// What the pixels tell of each picture of a page, in their order. The largest are looked at first; where
/// they took all that a page may take, the others are not assessed. `rgb`: CV_8UC3 in R G B order; `lossy`:
/// whether it was saved as JPEG or the like.
std::vector<Resampling> resamplings_of(const cv::Mat& rgb, const std::vector<PictureRegion>& pictures,
                                       bool lossy);

}  // namespace frisket
