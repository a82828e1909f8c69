#pragma once

#include <vector>

#include "page/zones/label_map.hpp"

namespace frisket {

/// Adds to ink on a picture the anti-aliased pixels that it covers, a few pixels on: the rim of its shapes
/// and strokes so thin that no pixel of them is of pure ink. A renderer paints coverage, so that such a pixel
/// lies on the line from the colour of the ground beside it to that of the ink (Porter and Duff, Compositing
/// digital images, SIGGRAPH 1984); what belongs to the picture itself hardly ever does.
///
/// `ink` counts from the corner of `rgb` (CV_8UC3): 0 for none, else the number, from 1, of its colour in
/// `colours`. Returns the same with more ink.
LabelMap grow_ink(const cv::Mat& rgb, LabelMap ink, const std::vector<cv::Vec3f>& colours);

}  // namespace frisket
