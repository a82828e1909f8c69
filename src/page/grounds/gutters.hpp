#pragma once

#include <vector>

#include "frisket/page.hpp"

namespace frisket {

/// Part of a fold that lies in the gutter between two columns of text.
struct Gutter {
  Length from, to;    ///< along the fold
  Length begin, end;  ///< across it: where the columns end and begin; the fold lies between
};

/// The gutters that a fold at `at` (an x where it is vertical, else a y) lies in. A column is three and more
/// lines above one another, whatever their ink or size; beside it two will do: what tells it from a word
/// space is that the white goes on from line to line, the tall empty rectangles of Breuel, Two geometric
/// algorithms for layout analysis, DAS 2002. Lines that were read across the white count as parted by it, if
/// one of its sides is straight.
std::vector<Gutter> gutters_at(const Page& page, Length at, bool vertical);

/// The boxes of the words of a line, in reading direction.
std::vector<Rect> word_boxes(const Page& page, const TextLine& line);

}  // namespace frisket
