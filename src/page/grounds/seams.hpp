#pragma once

#include "page/grounds/grounds.hpp"

namespace frisket {

/// Gives the anti-aliased pixels between two different surfaces to the nearer one in colour. The seam of a
/// straight edge is one pixel wide, of a slanted one two.
void close_seams(const cv::Mat& rgb, SurfaceMap& map);

}  // namespace frisket
