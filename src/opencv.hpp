#pragma once

// The one door to OpenCV: sources that need it include this header and no other of OpenCV's.
#include <opencv2/core.hpp>
#include <opencv2/imgproc.hpp>

#include "frisket/raster.hpp"

namespace frisket {

/// A view of the raster's pixels, CV_8UC3 in R G B order; shares the memory, which must outlive it.
inline cv::Mat view_of(const Raster& raster) {
  return cv::Mat(raster.height, raster.width, CV_8UC3, const_cast<std::uint8_t*>(raster.rgb.data()));
}

}  // namespace frisket
