#include "job/folds.hpp"

#include <algorithm>
#include <numeric>

#include "frisket/error.hpp"
#include "job/compensation.hpp"
#include "job/panel_names.hpp"

namespace frisket {
namespace {

using namespace literals;

/// Panels may miss the trim by the rounding of numbers typed with two decimals, no more.
constexpr Length sum_tolerance = 0.01_mm;

Length sum(const std::vector<Length>& lengths) {
  return std::accumulate(lengths.begin(), lengths.end(), Length());
}

std::string_view dimension(Axis axis) { return axis == Axis::x ? "width" : "height"; }

bool has_rule(FoldKind kind) { return kind != FoldKind::none && kind != FoldKind::list; }

/// How many panels `kind` has along its axis; empty where any number will do.
std::optional<std::size_t> wanted_count(const FoldRequest& request) {
  switch (request.kind) {
    case FoldKind::half:
    case FoldKind::cross:
      return 2;
    case FoldKind::letter:
    case FoldKind::gate:
      return 3;
    case FoldKind::double_gate:
    case FoldKind::double_parallel:
      return 4;
    case FoldKind::z:
    case FoldKind::roll:
      if (request.count > 0) return static_cast<std::size_t>(request.count);
      return std::nullopt;
    case FoldKind::none:
    case FoldKind::list:
      break;
  }
  return std::nullopt;
}

/// The numbers that would be right in place of `panels`: by the rule of the fold, else with the last one
/// taking up the difference.
std::vector<Length> right_panels(const FoldRequest& request, const std::vector<Length>& panels, Length length,
                                 Unit unit) {
  if (has_rule(request.kind)) {
    FoldRequest by_rule = request;
    by_rule.count = static_cast<int>(wanted_count(request).value_or(panels.size()));
    return compensated_panels(by_rule, length, measure_of(unit));
  }
  std::vector<Length> right = panels;
  right.back() += length - sum(panels);
  if (right.back() <= Length()) std::ranges::fill(right, length / static_cast<double>(right.size()));
  return right;
}

std::string right_text(const FoldRequest& request, const std::vector<Length>& panels, Length length,
                       Unit unit) {
  return "; right would be " + list_text(right_panels(request, panels, length, unit), unit);
}

void require_count(const FoldRequest& request, const std::vector<Length>& panels, Length length, Unit unit) {
  const auto wanted = wanted_count(request);
  const std::size_t least = request.kind == FoldKind::roll || request.kind == FoldKind::z ? 3 : 1;
  if (wanted ? panels.size() == *wanted : panels.size() >= least) return;
  throw Error(std::to_string(panels.size()) + " panels are given; a " + std::string(fold_name(request.kind)) +
              " fold has " + (wanted ? std::to_string(*wanted) : "3 or more") +
              (wanted ? right_text(request, panels, length, unit) : ""));
}

void require_sum(const FoldRequest& request, const std::vector<Length>& panels, Length length, Axis axis,
                 Unit unit) {
  const Length over = sum(panels) - length;
  if (abs(over) <= sum_tolerance) return;
  throw Error("the panels " + list_text(panels, unit) + " add up to " + to_exact_text(sum(panels), unit) +
              ", " + to_exact_text(abs(over), unit) + (over > Length() ? " more" : " less") +
              " than the trim " + std::string(dimension(axis)) + " of " + to_exact_text(length, unit) +
              right_text(request, panels, length, unit));
}

/// A panel that goes inside others, and the narrowest of those.
struct Tuck {
  Length tucked, cover;
};

/// The tightest tuck of a fold, with the tucked end last; empty where nothing is tucked in.
std::optional<Tuck> tightest_tuck(FoldKind kind, const std::vector<Length>& p) {
  std::vector<Tuck> tucks;
  if (kind == FoldKind::letter || kind == FoldKind::roll) {
    tucks.push_back({p[2], std::min(p[0], p[1])});
    for (std::size_t i = 3; i < p.size(); ++i) tucks.push_back({p[i], p[i - 1]});
  } else if (kind == FoldKind::double_gate) {
    tucks = {{p[0], p[1]}, {p[3], p[2]}};
  } else if (kind == FoldKind::double_parallel) {
    tucks = {{std::max(p[2], p[3]), std::min(p[0], p[1])}};
  }
  if (tucks.empty()) return std::nullopt;
  return *std::ranges::min_element(tucks, {}, [](const Tuck& t) { return t.cover - t.tucked; });
}

/// Where the panels would fold with the other end tucked in, that may be what is meant.
std::string other_end_text(const FoldRequest& request, std::vector<Length> in_order) {
  std::ranges::reverse(in_order);
  const auto tuck = tightest_tuck(request.kind, in_order);
  const bool one_end = request.kind != FoldKind::double_gate;
  if (!one_end || tuck->cover - tuck->tucked <= sum_tolerance) return "";
  const bool to_first = request.tucked == End::last;
  const std::string end =
      request.along == Axis::x ? (to_first ? "left" : "right") : (to_first ? "top" : "bottom");
  return "; or say \"tucked\": \"" + end + "\", if that end goes in";
}

void require_tucking(const FoldRequest& request, const std::vector<Length>& panels, Length length,
                     Unit unit) {
  const std::string kind(fold_name(request.kind));
  if (request.kind == FoldKind::gate && panels[0] + panels[2] > panels[1] + sum_tolerance)
    throw Error("the two end panels of the gate fold, " + to_exact_text(panels[0] + panels[2], unit) +
                " together, are wider than the " + to_exact_text(panels[1], unit) + " between them" +
                right_text(request, panels, length, unit));
  std::vector<Length> in_order = panels;
  if (request.tucked == End::first) std::ranges::reverse(in_order);
  const auto tuck = tightest_tuck(request.kind, in_order);
  if (!tuck || tuck->cover - tuck->tucked > sum_tolerance) return;
  if (abs(tuck->cover - tuck->tucked) <= sum_tolerance)
    throw Error("equal panels (" + to_exact_text(tuck->tucked, unit) + ") do not fold as a " + kind +
                " fold: a panel that is tucked in must be shorter than the one it goes into, or it buckles" +
                right_text(request, panels, length, unit));
  throw Error("the tucked panel (" + to_exact_text(tuck->tucked, unit) +
              ") is wider than the one it goes into (" + to_exact_text(tuck->cover, unit) + ")" +
              right_text(request, panels, length, unit) + other_end_text(request, in_order));
}

/// A fold with a rule has panels along one axis only, but for a cross fold.
void require_axis(const FoldRequest& request, Axis axis) {
  if (!has_rule(request.kind) || request.kind == FoldKind::cross || request.along == axis) return;
  throw Error("a " + std::string(fold_name(request.kind)) + " fold along " +
              (axis == Axis::x ? "y has no panels from left to right; list them as \"panels_y\""
                               : "x has no panels from top to bottom; list them as \"panels\""));
}

std::vector<Length> along_axis(const FoldRequest& request, std::vector<Length> given, Length length,
                               Axis axis, Unit unit) {
  const bool ruled = has_rule(request.kind) && (request.kind == FoldKind::cross || request.along == axis);
  if (given.empty())
    return ruled ? compensated_panels(request, length, measure_of(unit)) : std::vector{length};
  require_axis(request, axis);
  require_count(request, given, length, unit);
  require_sum(request, given, length, axis, unit);
  require_tucking(request, given, length, unit);
  given.back() += length - sum(given);  // within the tolerance: so that both sides' folds meet exactly
  return given;
}

/// Where the folds lie: all ends but the last.
std::vector<Length> fold_positions(const std::vector<Length>& panels) {
  std::vector<Length> folds(panels.size());
  std::partial_sum(panels.begin(), panels.end(), folds.begin());
  folds.pop_back();
  return folds;
}

}  // namespace

std::string list_text(const std::vector<Length>& lengths, Unit unit) {
  std::string text;
  for (const Length length : lengths) {
    const std::string one = to_exact_text(length, unit);
    text += (text.empty() ? "" : ", ") + one.substr(0, one.rfind(' '));
  }
  return text + " " + std::string(unit_name(unit));
}

std::vector<Length> seen_from_behind(std::vector<Length> lengths, bool mirrored) {
  if (mirrored) std::ranges::reverse(lengths);
  return lengths;
}

Panels plan_panels(const FoldRequest& request, const Size& trim, Unit unit) {
  return {along_axis(request, request.panels, trim.width, Axis::x, unit),
          along_axis(request, request.panels_y, trim.height, Axis::y, unit)};
}

SideLayout lay_out_side(const Panels& panels, const std::vector<std::string>& names) {
  SideLayout side{fold_positions(panels.columns), fold_positions(panels.rows), {}};
  Length y;
  for (const Length height : panels.rows) {
    Length x;
    for (const Length width : panels.columns) {
      side.panels.push_back({names.at(side.panels.size()), {x, y, width, height}});
      x += width;
    }
    y += height;
  }
  return side;
}

Size largest_panel(const SideLayout& side) {
  Size largest;
  for (const Panel& panel : side.panels)
    largest = {std::max(largest.width, panel.area.width), std::max(largest.height, panel.area.height)};
  return largest;
}

BothSides lay_out(const Panels& panels, const FoldRequest& request, Turn turn) {
  const Panels outside{seen_from_behind(panels.columns, mirrors(turn, Axis::x)),
                       seen_from_behind(panels.rows, mirrors(turn, Axis::y))};
  const std::size_t columns = panels.columns.size(), rows = panels.rows.size();
  return {lay_out_side(panels, inside_names(request, columns, rows, turn)),
          lay_out_side(outside, outside_names(request, columns, rows, turn))};
}

BothSides lay_out_flat(const Size& trim) {
  const SideLayout page = lay_out_side({{trim.width}, {trim.height}}, {"page"});
  return {page, page};
}

}  // namespace frisket
