#pragma once

#include <vector>

#include "page/text/glyphs.hpp"
#include "page/text/letter_rows.hpp"

namespace frisket {

/// A line that runs neither across the page nor straight down it.
struct SlantedLine {
  Row row;       ///< boxes in the line's own frame
  double angle;  ///< of its direction, radians, clockwise; between -90 and 90 degrees
};

/// Lines at any angle among elements that stand on one ground. Each clump of
/// letters is tried at every fifth degree; the angle at which most of them read as lines, and the tightest
/// ones, is then set by the lines themselves.
std::vector<SlantedLine> slanted_lines(const std::vector<int>& members, const std::vector<Element>& elements,
                                       Glyphs& glyphs);

/// Words whose letters stand one after another on an arc of a circle; each is a list of elements.
std::vector<std::vector<int>> arcs(const std::vector<int>& members, const std::vector<Element>& elements,
                                   Glyphs& glyphs);

}  // namespace frisket
