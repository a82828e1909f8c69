#pragma once

#include "page/grounds/grounds.hpp"

namespace frisket {

/// Is zone `number` of `zones` a gradient drawn in steps: flat bands whose anti-aliased borders join them?
/// Its bands, of at least `least_area` px each, are nearly all of it then; in photographs little is flat. The
/// piecewise flat model is that of Mumford, Shah, Comm. Pure Appl. Math. 42(5), 1989, taken to the letter,
/// for a renderer keeps to it. Lossless pages only.
bool is_banded(const cv::Mat& rgb, const ZoneMap& zones, int number, double least_area);

/// Makes one surface of the bands of a gradient whose steps are too large to join them as zones: of fields
/// side by side whose colour goes on, from one to the next, as it came. A card on a ground is a step there
/// and back.
void merge_bands(SurfaceMap& map, const Scale& scale);

}  // namespace frisket
