// What designers call the panels (common practice, no source). Lists are written for panels side by side,
// with the last one tucked in and the outside reached by mirroring; the other cases follow from these.
//
// The cover of a letter or roll fold is where the fold puts it: the panel folded over last. Where a fold is
// the same from both ends (half, gate, z, cross) and in a double parallel fold, the front cover is the one
// whose spine lies to its left (above it) as that side is read, however the sheet was turned.
#include "job/panel_names.hpp"

#include <algorithm>
#include <array>

namespace frisket {
namespace {

using Names = std::vector<std::string>;

void replace(std::string& text, std::string_view from, std::string_view to) {
  if (const std::size_t at = text.find(from); at != std::string::npos) text.replace(at, from.size(), to);
}

void exchange(std::string& text, std::string_view a, std::string_view b) {
  if (text.find(a) != std::string::npos)
    replace(text, a, b);
  else
    replace(text, b, a);
}

/// "left", "centre", "right", or "panel 2" of more than three.
std::string column_word(std::size_t at, std::size_t count) {
  if (count > 3) return "panel " + std::to_string(at + 1);
  if (at == 0) return "left";
  return at + 1 == count ? "right" : "centre";
}

std::string row_word(std::size_t at, std::size_t count) {
  if (count > 3) return "row " + std::to_string(at + 1);
  if (at == 0) return "top";
  return at + 1 == count ? "bottom" : "middle";
}

/// Names by place alone, for a grid of panels.
Names by_place(const std::string& side, std::size_t columns, std::size_t rows) {
  Names names;
  for (std::size_t row = 0; row < rows; ++row)
    for (std::size_t column = 0; column < columns; ++column)
      names.push_back(side + (rows > 1 ? " " + row_word(row, rows) : "") +
                      (columns > 1 ? " " + column_word(column, columns) : ""));
  return names;
}

Names roll_outside(std::size_t count) {
  Names names;
  for (std::size_t tucked = count - 2; tucked > 0; --tucked)
    names.push_back(count == 3 ? "tucked panel" : "tucked panel " + std::to_string(tucked));
  names.insert(names.end(), {"back cover", "front cover"});
  return names;
}

/// A z fold with an even number of panels has both covers on one side; with an odd number the back cover is
/// on the other side, at the far end of the sheet.
Names z_outside(std::size_t count) {
  Names names = by_place("outside", count, 1);
  names.back() = "front cover";
  if (count % 2 == 0) names.front() = "back cover";
  return names;
}

Names z_inside(std::size_t count, bool mirrored) {
  Names names = by_place("inside", count, 1);
  if (count % 2 == 1) (mirrored ? names.back() : names.front()) = "back cover";
  return names;
}

/// For a row of panels side by side.
Names row_inside(const FoldRequest& request, std::size_t count, bool mirrored) {
  switch (request.kind) {
    case FoldKind::z:
      return z_inside(count, mirrored);
    case FoldKind::gate:
      return {"inside left gate", "inside centre", "inside right gate"};
    case FoldKind::double_gate:
      return {"inside left gate", "inside left", "inside right", "inside right gate"};
    default:
      return by_place("inside", count, 1);
  }
}

Names row_outside(FoldKind kind, std::size_t count) {
  switch (kind) {
    case FoldKind::half:
      return {"back cover", "front cover"};
    case FoldKind::letter:
    case FoldKind::roll:
      return roll_outside(count);
    case FoldKind::z:
      return z_outside(count);
    case FoldKind::gate:
      return {"front cover, right half", "back cover", "front cover, left half"};
    case FoldKind::double_gate:
      return {"first spread, right", "back cover", "front cover", "first spread, left"};
    case FoldKind::double_parallel:
      return {"first spread, left", "first spread, right", "back cover", "front cover"};
    default:
      return by_place("outside", count, 1);
  }
}

/// The same row with its tucked end on the other side.
void turn_end_for_end(Names& names, FoldKind kind) {
  const bool rolled = kind == FoldKind::letter || kind == FoldKind::roll;
  if (!rolled && kind != FoldKind::double_parallel) return;
  std::ranges::reverse(names);
  if (rolled) return;
  for (std::string& name : names) {
    exchange(name, "left", "right");
    exchange(name, "front", "back");
  }
}

/// For panels one above the other.
Names stood_up(Names names) {
  for (std::string& name : names) {
    replace(name, "left", "top");
    replace(name, "right", "bottom");
    replace(name, "centre", "middle");
  }
  return names;
}

bool is_grid(const FoldRequest& request) {
  return request.kind == FoldKind::list || request.kind == FoldKind::none || request.kind == FoldKind::cross;
}

}  // namespace

std::vector<std::string> inside_names(const FoldRequest& request, std::size_t columns, std::size_t rows,
                                      Turn turn) {
  if (is_grid(request)) return by_place("inside", columns, rows);
  const bool along_x = request.along == Axis::x;
  Names names = row_inside(request, along_x ? columns : rows, mirrors(turn, request.along));
  return along_x ? names : stood_up(std::move(names));
}

std::vector<std::string> outside_names(const FoldRequest& request, std::size_t columns, std::size_t rows,
                                       Turn turn) {
  // A cross fold is folded top over bottom first, so its upper half is the spread inside the covers.
  if (request.kind == FoldKind::cross)
    return {"first spread, right", "first spread, left", "back cover", "front cover"};
  if (is_grid(request)) return by_place("outside", columns, rows);
  const bool along_x = request.along == Axis::x;
  Names names = row_outside(request.kind, along_x ? columns : rows);
  if ((request.tucked == End::first) == mirrors(turn, request.along)) turn_end_for_end(names, request.kind);
  return along_x ? names : stood_up(std::move(names));
}

}  // namespace frisket
