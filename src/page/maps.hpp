#pragma once

#include "frisket/page.hpp"
#include "page/grounds/grounds.hpp"
#include "page/resampling/resampling.hpp"

namespace frisket {

/// What the analysis knows of every pixel, and of pictures.
struct PageMaps {
  Scale scale;
  SurfaceMap surfaces;
  std::vector<Resampling> resamplings;  ///< by Page::pictures; empty where the page was turned straight
  LabelMap element;  ///< index into Page::elements of the topmost element, or -1 where none stands
};

}  // namespace frisket
