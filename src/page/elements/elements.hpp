#pragma once

#include <vector>

#include "frisket/page.hpp"
#include "page/elements/picture_ink.hpp"
#include "page/grounds/grounds.hpp"

namespace frisket {

/// The things that stand on the page's grounds, and which of them each pixel belongs to (topmost; -1: none).
struct ElementTree {
  std::vector<Element> elements;
  LabelMap map;
  std::vector<cv::Vec3f> colours;  ///< by element: mean of the pixels inside it, clear of its border
};

/// Finds what stands on paper, on fields and on pictures: connected remainders once the grounds that bleed
/// are taken away, then, inside those that are large enough to carry something, the same again.
/// `Element::box` is left to the caller.
ElementTree find_elements(const cv::Mat& rgb, const SurfaceMap& map, const Scale& scale, SharpZones& sharp);

}  // namespace frisket
