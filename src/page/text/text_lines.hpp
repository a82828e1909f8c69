#pragma once

#include <vector>

#include "frisket/page.hpp"
#include "page/text/glyphs.hpp"

namespace frisket {

/// Groups letter-sized elements that stand on the same ground into lines, sets their matter to text, and
/// lines of one size and column into blocks. Lines run along x, along y, at any angle or on an arc; each
/// letter's nearest neighbour has to be in its line for the most part, which tells rows of a block from its
/// columns (O'Gorman 1993, see letter_rows.hpp). Joined scripts, whose words are one element or a heap of
/// strokes and dots, are told by their strokes: even, slender against the word's height, and many.
///
/// Boxes are in pixels; job-space boxes are left to the caller.
struct TextLayout {
  std::vector<TextLine> lines;
  std::vector<TextBlock> blocks;
};
TextLayout find_text(std::vector<Element>& elements, Glyphs& glyphs, const Scale& scale);

}  // namespace frisket
