#pragma once

#include <cstdint>
#include <map>

#include "page/grounds/grounds.hpp"

namespace frisket {

/// Is there a picture on three sides of a box? An outline on a picture encloses more of the picture; it is a
/// drawing for all that.
bool stands_on_picture(const cv::Rect& box, const SurfaceMap& surfaces);

/// Pixels inside a frame or an outline that are more of what it stands on: fields of a colour that is met
/// outside its box, or the same picture; 0 where that is less than half of the box. `areas` are those of the
/// surfaces that lie inside.
std::int64_t enclosed_ground(const cv::Mat& rgb, const cv::Rect& box, const SurfaceMap& surfaces,
                             const std::map<int, std::int64_t>& areas);

/// Is a surface that passes for a picture the ground in the counter of a letter, under the letter's own
/// shadow or glow? Then it lies inside the letter's box, rises by small steps alone and is, in part, of a
/// colour that is met outside the box.
bool is_shadowed_counter(const cv::Mat& rgb, const cv::Rect& box, const SurfaceMap& surfaces, int surface);

}  // namespace frisket
