#pragma once

#include "page/grounds/grounds.hpp"

namespace frisket {

/// Gives the anti-aliased pixels between two different surfaces to the nearer one in colour. The seam of a
/// straight edge is one pixel wide, of a slanted one two; on JPEG pages it is as wide as the ringing beside
/// it.
void close_seams(const cv::Mat& rgb, const Scale& scale, SurfaceMap& map);

}  // namespace frisket
