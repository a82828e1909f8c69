#pragma once

#include <optional>

#include "job/field.hpp"
#include "job/folds.hpp"

namespace frisket {

/// The folds of a ticket or a flag, and the outside's own panels where they are listed to be checked.
struct FoldsRead {
  FoldRequest request;
  std::vector<Length> outside_panels, outside_panels_y;
};

/// Reads "folds": a kind by name, a list of panels as text ("3.6875,3.6875,3.625in"), or an object with
/// kind, count, tucked, along, stock or caliper, shorter, panels, panels_y, outside_panels and
/// outside_panels_y. Throws Error that names the place, the value and what was expected.
FoldsRead read_folds(const Field& field);
/// Reads "turn".
Turn read_turn(const Field& field);

/// Lays the folds over the trim. Throws Error that names the place for panels that do not go with the trim
/// or the kind of fold, and for an outside that is not the mirror of the inside.
BothSides fold_sheet(const Field& field, const FoldsRead& folds, const Size& trim, Turn turn, Unit unit);

}  // namespace frisket
