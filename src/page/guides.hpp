#pragma once

#include <optional>

#include "page/grounds.hpp"

namespace frisket {

/// A thin line found along a wanted position, all the way across.
struct GuideLine {
  double position = 0;  ///< px, its centre
  double width = 0;     ///< px
};

/// Looks for a line that was left in as a guide: thin (up to 2 pt), solid, dashed or dotted, within `reach`
/// px of `position`, along at least nine tenths of the way from `from` to `to` px. A pixel belongs to a line
/// where it differs from both sides a line's width away, in the same sense, and both sides are alike; a line
/// is a column (or its neighbour) with such pixels in nearly every section of 10 mm.
std::optional<GuideLine> find_guide(const cv::Mat& rgb, double position, bool vertical, double from,
                                    double to, double reach, const Scale& scale);

}  // namespace frisket
