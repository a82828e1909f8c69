#pragma once

#include <vector>

#include "report/overlay_marks.hpp"
#include "report/svg.hpp"

namespace frisket {

/// Width of the strip below a page of `page_width` overlay pixels: the page's, but wide enough to be read.
double strip_width(double page_width);

/// Draws the strip with its top at `top`, `width` overlay pixels wide: the verdict in words, the page,
/// findings that have no place on the page, and the key to lines and badges. Returns its height.
double draw_strip(Svg& svg, const Report& report, const std::vector<Mark>& marks, double top, double width);

}  // namespace frisket
