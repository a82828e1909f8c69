#include "page/resampling_joint.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

namespace frisket {
namespace {

constexpr std::array kernels{Kernel::bilinear, Kernel::area,     Kernel::catmull_rom,
                             Kernel::mitchell, Kernel::lanczos3, Kernel::cubic};
constexpr double rounding_only = 0.34;  // grey levels left over by rounding, at most
constexpr double least_rounding =
    0.175;                             // and at least: less means that the factor's space is too wide to tell
constexpr double deep_enough = -0.10;  // sum of the logarithms of both dips
constexpr double deep_with_grid = -0.05;  // where the block grid names the same factor
constexpr double hopeless = 0.0;          // of the first kernels: no other makes a dip of it
constexpr double both_dip = 0.985;        // neither axis may speak against it: they may differ
constexpr double least_peak = 4.0;        // of the higher of the two peaks
constexpr double least_lower_peak = 2.0;  // of either axis: where they differ in factor, one shows nothing
constexpr double small_factor = 1.5;  // its grid drifts slowly, and its space holds most of a soft picture
constexpr double deep_when_small = -0.3;
constexpr double just_as_much_left = 1.1;
constexpr double more_left = 1.25;  // a multiple may leave this much more than what it is a multiple of
constexpr double surely_alias = 0.6,
                 maybe_alias = 0.25;  // share of the depth that the larger alias must reach
constexpr std::size_t most_tried = 10;

struct Tried {
  double factor = 1;
  double depth = 0;  ///< log of the dips of both axes: negative where the rows fit
  Fit fx, fy;

  double residual() const { return std::max(fx.residual, fy.residual); }
  double mean_residual() const { return (fx.residual + fy.residual) / 2; }
  double shallower() const { return std::max(fx.dip, fy.dip); }
  Kernel kernel() const { return fx.dip < fy.dip ? fx.kernel : fy.kernel; }
};

double height_on_both(const AxisEvidence& x, const AxisEvidence& y, double factor) {
  return std::sqrt(x.spectrum.near(1.0 / factor) * y.spectrum.near(1.0 / factor));
}

double lower_peak(const AxisEvidence& x, const AxisEvidence& y, double factor) {
  return std::min(x.spectrum.near(1.0 / factor), y.spectrum.near(1.0 / factor));
}

bool near(double a, double b, double within) { return std::abs(a / b - 1.0) < within; }

/// True where the grid of a JPEG names the factor: its pitch is 8, 4, 2 or 1 times as many pixels.
bool grid_names(const BlockGrid& grid, double factor) {
  if (grid.score < 0.9 || grid.factor < least_enlargement) return false;
  return std::ranges::any_of(std::array{1.0, 2.0, 4.0, 8.0},
                             [&](double times) { return near(grid.factor * times, factor, 0.012); });
}

/// A JPEG at the page's own resolution has peaks at k / 8 that look like factors; 16 px is the block of its
/// colour.
bool is_tooth_of_unscaled_jpeg(const BlockGrid& grid, double factor) {
  if (grid.score < 0.7 || !(near(grid.factor, 1.0, 0.015) || near(grid.factor, 2.0, 0.015))) return false;
  const double tooth = 8.0 / factor;
  return near(tooth, std::round(tooth), 0.006);
}

Tried try_on_both(const AxisEvidence& x, const AxisEvidence& y, double factor) {
  Tried best{factor, 9.0, {}, {}};
  for (const std::span<const Kernel> some : {std::span(kernels).first(3), std::span(kernels).subspan(3)}) {
    const Fit fx = best_fit(x.windows(factor), factor, some), fy = best_fit(y.windows(factor), factor, some);
    best.fx = fx.dip < best.fx.dip ? fx : best.fx;
    best.fy = fy.dip < best.fy.dip ? fy : best.fy;
    best.depth = std::log(best.fx.dip) + std::log(best.fy.dip);
    if (best.depth > hopeless) break;
  }
  return best;
}

/// The factors that the peaks and grids of both axes suggest, highest on both first.
std::vector<double> suggested(const AxisEvidence& x, const AxisEvidence& y) {
  std::vector<double> factors;
  for (const AxisEvidence* axis : {&x, &y}) {
    for (const Candidate& candidate : candidate_factors(highest_peaks(axis->spectrum)))
      factors.push_back(candidate.factor);
    for (const double times : {1.0, 2.0, 4.0, 8.0})
      if (grid_names(axis->grid, axis->grid.factor * times)) factors.push_back(axis->grid.factor * times);
  }
  std::erase_if(factors, [](double f) { return f < least_enlargement || f > most_enlargement; });
  std::ranges::stable_sort(factors, std::greater{}, [&](double f) { return height_on_both(x, y, f); });
  std::vector<double> kept;
  for (const double factor : factors)
    if (kept.size() < most_tried &&
        std::ranges::none_of(kept, [&](double k) { return near(factor, k, 0.006); }))
      kept.push_back(factor);
  return kept;
}

/// The larger factor of the pair whose peaks cannot be told apart.
double larger_alias(double factor) { return factor < 2.0 ? 1.0 / (1.0 - 1.0 / factor) : factor; }

/// Soft pictures also fit factors whose space is so wide that it holds their rounding.
bool is_too_wide(const Tried& tried) { return tried.mean_residual() < least_rounding; }

/// What was enlarged by s also fits s / 2, s / 3 and s / 4, but only at s is there the first peak of the
/// grid.
Tried with_multiples(const AxisEvidence& x, const AxisEvidence& y, const Tried& best) {
  for (const double times : {4.0, 3.0, 2.0}) {
    if (best.factor * times > most_enlargement) continue;
    const Tried multiple = try_on_both(x, y, best.factor * times);
    const double more = multiple.residual() / best.residual();
    const bool higher = height_on_both(x, y, multiple.factor) >= height_on_both(x, y, best.factor);
    const double deep = higher ? deep_with_grid : more < just_as_much_left ? best.depth / 2 : best.depth;
    if (multiple.residual() < rounding_only && multiple.depth < deep &&
        (more < more_left || is_too_wide(best)))
      return multiple;
  }
  return best;
}

/// Chooses between a factor and its larger alias.
std::optional<JointFinding> with_alias(const AxisEvidence& x, const AxisEvidence& y, const Tried& best) {
  const JointFinding found{best.factor, best.kernel(), false};
  const double alias = larger_alias(best.factor);
  if (near(alias, best.factor, 0.05)) return found;
  const bool in_range = alias <= most_enlargement;
  const Tried larger = in_range ? try_on_both(x, y, alias) : Tried{};
  const bool fits = in_range && larger.residual() < rounding_only && larger.depth < deep_with_grid;
  const Tried whole = fits ? with_multiples(x, y, larger) : larger;
  const JointFinding other{whole.factor, whole.kernel(), false};
  if (is_too_wide(best)) return fits ? std::optional(other) : std::nullopt;
  if (!fits || larger.depth > maybe_alias * best.depth) return found;
  if (larger.depth > surely_alias * best.depth) return JointFinding{best.factor, best.kernel(), true};
  return other;
}

}  // namespace

std::optional<JointFinding> find_jointly(const AxisEvidence& x, const AxisEvidence& y) {
  if (x.short_windows.empty() || y.short_windows.empty()) return std::nullopt;
  std::vector<Tried> all;
  for (const double factor : suggested(x, y)) {
    if (is_tooth_of_unscaled_jpeg(x.grid, factor) || is_tooth_of_unscaled_jpeg(y.grid, factor)) continue;
    if (height_on_both(x, y, factor) >= least_peak || grid_names(x.grid, factor))
      all.push_back(try_on_both(x, y, factor));
  }
  const auto is_deep = [&](const Tried& t) {
    const bool named = grid_names(x.grid, t.factor) && grid_names(y.grid, t.factor);
    if (!named && lower_peak(x, y, t.factor) < least_lower_peak) return false;
    if (t.factor < small_factor && t.depth > deep_when_small) return false;
    return t.residual() < rounding_only && t.shallower() < both_dip &&
           t.depth < (named ? deep_with_grid : deep_enough);
  };
  std::erase_if(all, [&](const Tried& t) { return !is_deep(t); });
  if (all.empty()) return std::nullopt;
  const Tried best = *std::ranges::min_element(all, {}, &Tried::depth);
  return with_alias(x, y, with_multiples(x, y, best));
}

}  // namespace frisket
