#pragma once

#include "frisket/page.hpp"
#include "page/grounds.hpp"

namespace frisket {

/// What the analysis knows of every pixel.
struct PageMaps {
  Scale scale;
  SurfaceMap surfaces;
  LabelMap element;  ///< index into Page::elements of the topmost element, or -1 where none stands
};

}  // namespace frisket
