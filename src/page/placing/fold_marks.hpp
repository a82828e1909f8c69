#pragma once

#include <vector>

#include "frisket/units.hpp"
#include "page/placing/mark_rectangle.hpp"

namespace frisket {

/// Where pairs of marks stand on two opposite sides of a trim, from its left and from its top, ascending.
struct FoldMarks {
  std::vector<Length> x, y;
};

/// Strokes outside the trim, square to the side they stand at, with one like it across the page: fold marks,
/// and centre marks in the middle of a side.
FoldMarks find_fold_marks(const MarkStrokes& strokes, const TrimLines& lines);

}  // namespace frisket
