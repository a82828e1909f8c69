#pragma once

#include <vector>

#include "frisket/page.hpp"
#include "page/grounds.hpp"

namespace frisket {

/// Groups letter-sized elements that stand on the same ground into lines, along x and along y, sets their
/// matter to text, and lines of one size and column into blocks. Neighbours of a line overlap across its
/// direction, are of like size and no farther apart than a generous word space; a column gutter is wider. The
/// grouping follows the nearest-neighbour clustering of O'Gorman, The document spectrum for page layout
/// analysis, IEEE TPAMI 15(11), 1993 (from memory), with letter boxes in place of centroids.
///
/// Boxes are in pixels; job-space boxes are left to the caller.
struct TextLayout {
  std::vector<TextLine> lines;
  std::vector<TextBlock> blocks;
};
TextLayout find_text(std::vector<Element>& elements, const Scale& scale);

}  // namespace frisket
