#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "frisket/job.hpp"

namespace frisket {

/// The ways of folding that frisket can work out; `list`: only the panels given.
enum class FoldKind { none, half, letter, z, gate, double_gate, roll, double_parallel, cross, list };
/// As in a ticket: "double-gate"; "none" and "list" for those.
std::string_view fold_name(FoldKind kind);
/// Reads a kind by its name in a ticket or by another name of the trade ("tri-fold", "accordion"), in lower
/// case. Empty where it is none.
std::optional<FoldKind> find_fold(std::string_view name);

/// The direction in which panels lie side by side: `x` has vertical folds.
enum class Axis { x, y };
/// The end of the sheet that is folded in: `first` is the left (top) one as seen on the inside.
enum class End { first, last };
/// How the other side is reached: head to head the sheet turns like a leaf of a book, head to foot like a
/// leaf of a wall calendar.
enum class Turn { head_to_head, head_to_foot };
/// Thickness of the stock as far as folding is concerned.
enum class Stock { text, cover };
/// What is to be folded. Panel lists are as seen on the inside, left to right and top to bottom; for a kind
/// of fold they replace the widths worked out along its axis.
struct FoldRequest {
  FoldKind kind = FoldKind::none;
  int count = 0;  ///< panels of a z or roll fold
  Axis along = Axis::x;
  End tucked = End::last;
  Stock stock = Stock::text;
  std::optional<Length> shorter;  ///< overrides by how much a panel that folds in is shorter
  std::vector<Length> panels, panels_y;
};

/// Widths of columns and heights of rows on the inside; each has one entry where nothing is folded that way.
struct Panels {
  std::vector<Length> columns, rows;
};

/// All panels of a fold. Throws Error (without file and key) for lists that do not add up to the trim within
/// 0.01 mm, of the wrong count, or that cannot be folded so; it says the numbers that would be right.
Panels plan_panels(const FoldRequest& request, const Size& trim, Unit unit);

/// Both sides with folds and named panels.
struct BothSides {
  SideLayout inside, outside;
};
BothSides lay_out(const Panels& panels, const FoldRequest& request, Turn turn);
/// One side of a sheet whose panels, row by row, are called `names`.
SideLayout lay_out_side(const Panels& panels, const std::vector<std::string>& names);
/// Work that is not folded: one panel, the same on both sides.
BothSides lay_out_flat(const Size& trim);

/// The size of the finished piece: as wide and as high as its largest panels.
Size largest_panel(const SideLayout& side);

/// "3.6875, 3.6875, 3.625 in": lengths to be typed in.
std::string list_text(const std::vector<Length>& lengths, Unit unit);

/// The same lengths as seen from the other side, where the turn mirrors that axis.
std::vector<Length> seen_from_behind(std::vector<Length> lengths, bool mirrored);
/// True where `turn` mirrors positions along `axis`.
constexpr bool mirrors(Turn turn, Axis axis) { return (turn == Turn::head_to_head) == (axis == Axis::x); }

}  // namespace frisket
