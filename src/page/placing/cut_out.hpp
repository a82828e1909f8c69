#pragma once

#include "frisket/page.hpp"

namespace frisket {

/// Trim and bleed, cut out of a larger canvas.
struct CutOut {
  Raster raster;
  Placement placement;  ///< of the trim on `raster`
};

/// Cuts trim and bleed out of the canvas, so that marks, slug and colour bars are gone and colour that bleeds
/// ends at the canvas edge, as on a page that came without them. A crooked page is turned straight about the
/// middle of its trim. The cut lies within the bleed by up to a pixel (two where the page was turned), so
/// that no pixel of it is half slug. What the canvas lacks of the bleed is white: nothing is printed there.
CutOut cut_out(const Raster& canvas, const Placement& placement, const Job& job);

/// The whole canvas turned straight about the middle of the trim; its size stays. White comes in at the
/// corners.
Raster straightened(const Raster& canvas, const PixelRect& trim_px, double skew);

}  // namespace frisket
