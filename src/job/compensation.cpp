// How much shorter a panel must be to lie inside others. Printers' folding guides agree on the inch figures
// for letter (1/16 in, thick stock up to 1/8 in), gate (1/16 in or 1/8 in off each end), and roll folds
// (each next panel 3/32 in shorter on text stock, 1/8 in on cover stock, the last 1/16 in). The 3 mm of a
// metric letter fold is from a public design manual (100 + 100 + 97). The other metric figures are the inch
// ones in steps of 0.5 mm. All common practice; no standard has them.
#include "job/compensation.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numeric>

#include "frisket/error.hpp"

namespace frisket {
namespace {

using namespace literals;

constexpr Length inch_cell = 1_in / 32.0;
constexpr Length metric_cell = 0.5_mm;

/// Inch and metric figures for text and for cover stock.
struct Allowance {
  Length inch_text, inch_cover, metric_text, metric_cover;

  Length pick(Stock stock, Measure measure) const {
    if (measure == Measure::imperial) return stock == Stock::text ? inch_text : inch_cover;
    return stock == Stock::text ? metric_text : metric_cover;
  }
};
constexpr Allowance letter_end{1_in / 16.0, 1_in / 8.0, 3_mm, 3_mm};
constexpr Allowance roll_next{3_in / 32.0, 1_in / 8.0, 2.5_mm, 3_mm};
constexpr Allowance roll_last{1_in / 16.0, 1_in / 16.0, 1.5_mm, 1.5_mm};
/// Each gate falls this much short of the middle; the inner pair of a double parallel fold of the outer.
constexpr Allowance gate_end{1_in / 16.0, 1_in / 8.0, 1.5_mm, 3_mm};

/// Whole cells are counted with this much grace, so that 3.6875 in is 118 cells and not 117 or 119.
constexpr double cell_grace = 1e-6;
Length rounded_up(Length length, Length cell) { return std::ceil(length / cell - cell_grace) * cell; }
Length rounded_down(Length length, Length cell) { return std::floor(length / cell + cell_grace) * cell; }

/// Takes `excess` off the panels that are tucked in (the third and later ones), whole cells in turn from
/// the innermost outward, so that no step between neighbours becomes smaller than its allowance.
void take_off(std::vector<Length>& panels, Length excess, Length cell) {
  const Length odd = excess - rounded_down(excess, cell);
  panels.back() -= odd;
  int cells = static_cast<int>(std::lround((excess - odd) / cell));
  for (std::size_t at = panels.size() - 1; cells > 0; --cells, at = at == 2 ? panels.size() - 1 : at - 1)
    panels[at] -= cell;
}

/// Panels from the cover inward: the outer two are the finished size, each next one is shorter.
std::vector<Length> rolled(std::size_t count, Length length, Length next, Length last, Length cell) {
  std::vector<Length> panels(count);
  for (std::size_t i = 2; i < count; ++i) panels[i] = panels[i - 1] - (i + 1 == count ? last : next);
  const Length shortened = -std::accumulate(panels.begin(), panels.end(), Length());
  const Length outer = rounded_up((length + shortened) / static_cast<double>(count), cell);
  for (Length& panel : panels) panel += outer;
  take_off(panels, std::accumulate(panels.begin(), panels.end(), Length()) - length, cell);
  return panels;
}

std::vector<Length> equal(std::size_t count, Length length) {
  return std::vector<Length>(count, length / static_cast<double>(count));
}

std::vector<Length> gate(Length length, Length shorter, Length cell) {
  const Length end = rounded_down((length / 2.0 - shorter) / 2.0, cell);
  return {end, length - end * 2.0, end};
}

std::vector<Length> double_gate(Length length, Length shorter, Length cell) {
  const Length end = rounded_down((length / 2.0 - shorter) / 2.0, cell);
  return {end, length / 2.0 - end, length / 2.0 - end, end};
}

std::vector<Length> double_parallel(Length length, Length shorter, Length cell) {
  const Length outer = rounded_up((length / 2.0 + shorter) / 2.0, cell);
  return {outer, outer, length / 2.0 - outer, length / 2.0 - outer};
}

/// With the tucked end last.
std::vector<Length> panels_of(const FoldRequest& request, Length length, Measure measure) {
  const Length cell = measure == Measure::imperial ? inch_cell : metric_cell;
  const auto allowance = [&](const Allowance& usual) {
    return request.shorter.value_or(usual.pick(request.stock, measure));
  };
  const auto count = static_cast<std::size_t>(std::max(request.count, 3));
  switch (request.kind) {
    case FoldKind::half:
    case FoldKind::cross:
      return equal(2, length);
    case FoldKind::z:
      return equal(count, length);
    case FoldKind::letter:
      return rolled(3, length, Length(), allowance(letter_end), cell);
    case FoldKind::roll:
      return count == 3 ? rolled(3, length, Length(), allowance(letter_end), cell)
                        : rolled(count, length, allowance(roll_next), allowance(roll_last), cell);
    case FoldKind::gate:
      return gate(length, allowance(gate_end), cell);
    case FoldKind::double_gate:
      return double_gate(length, allowance(gate_end), cell);
    case FoldKind::double_parallel:
      return double_parallel(length, allowance(gate_end), cell);
    case FoldKind::none:
    case FoldKind::list:
      break;
  }
  assert(false && "a list of panels has no rule");
  return {length};
}

}  // namespace

std::vector<Length> compensated_panels(const FoldRequest& request, Length length, Measure measure) {
  std::vector<Length> panels = panels_of(request, length, measure);
  if (*std::ranges::min_element(panels) <= Length())
    throw Error("a sheet of " +
                to_exact_text(length, measure == Measure::imperial ? Unit::inch : Unit::millimetre) +
                " is too short for a " + std::string(fold_name(request.kind)) + " fold of " +
                std::to_string(panels.size()) + " panels");
  if (request.tucked == End::first) std::ranges::reverse(panels);
  return panels;
}

}  // namespace frisket
