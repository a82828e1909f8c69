#pragma once

#include <vector>

#include "page/elements/elements.hpp"
#include "page/elements/patterns.hpp"

namespace frisket {

/// Gives the figures of patterns to the ground that they stand on, those too that type or a drawing covers
/// in part: what stands on a pattern is then free of it, and can be looked for again. False where nothing was
/// given.
bool give_to_ground(const cv::Mat& rgb, const ElementTree& tree, const std::vector<Pattern>& patterns,
                    const Scale& scale, SurfaceMap& map);

}  // namespace frisket
