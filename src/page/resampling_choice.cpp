#include "page/resampling_choice.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace frisket {
namespace {

// Grey levels left over, in luma. Rounding of three channels leaves 0.19, of a grey picture 0.29.
constexpr double rounding_floor = 0.62;  // what rounding, phase steps and other filters leave at most
constexpr double noisy_floor = 1.6;      // with noise on top of it
constexpr double contrast_floor =
    6.0;  // with the steps between phases, where edges are hard and the dip is clear
constexpr double least_rounding = 0.2;  // residuals below it are alike

constexpr double no_dip = 0.985;
constexpr double same_factor = 0.011;

bool near(double a, double b, double within) { return std::abs(a / b - 1.0) < within; }

/// True where the dip and the peaks leave no doubt, however hard the edges are.
bool is_clear(const Case& on) { return on.dip < 0.55 && on.low_peak > 10.0; }

/// Spaces so wide that smooth pictures lie in them, rounding and all.
bool is_too_wide(const Case& on) {
  if (on.factor < 1.5 && (on.residual < 0.19 || on.least_residual < 0.14)) return true;
  return on.factor < 2.0 && (on.residual < 0.165 || on.least_residual < 0.1);
}

bool leaves_little(const Case& on) {
  if (on.residual < rounding_floor) return on.factor > 1.3 || on.residual < 0.45 || on.depth < -1.6;
  if (on.low_peak < 4.0) return false;
  return (on.factor > 1.3 && on.depth < -0.8) || (on.depth < -1.2 && on.dip < 0.65);
}

bool is_convincing(const Case& on) {
  if (!leaves_little(on)) return false;
  if (on.factor < 1.3 && on.dip > 0.9) return false;  // such a grid drifts slowly: both axes have to see it
  if (on.low_peak < 4.0 && !on.named && on.depth > -0.3) return false;
  // what the area filter leaves depends on the phase in other pictures as well
  if (on.kernel == Kernel::area && on.factor < 3.0 && on.depth > -0.7) return false;
  if (on.factor < 1.08) return on.depth < -1.2 && on.low_peak > 4.0;
  if (on.factor < 1.2) return on.depth < -0.8 || (on.depth < -0.6 && on.low_peak > 5.0);
  return on.depth < (on.factor < 1.5 ? -0.4 : on.named ? -0.06 : -0.1);
}

double above_rounding(const Case& on) { return std::max(on.residual, least_rounding); }

/// The peak of the true grid may be too weak to be seen first; what was found is then a part of it.
const Case& with_multiples(const std::vector<Case>& cases, const Case& found) {
  for (const double times : {4.0, 3.0, 2.0}) {
    const Case* multiple = find_case(cases, found.factor * times);
    if (!multiple || found.is_pitch || !is_plausible(*multiple)) continue;
    if (is_clear(*multiple) && multiple->low_peak > 0.9 * found.low_peak &&
        multiple->depth < 0.5 * found.depth)
      return *multiple;
    if (multiple->residual > rounding_floor) continue;
    const double more = above_rounding(*multiple) / above_rounding(found);
    const bool own_peak = multiple->low_peak >= 4.0 && multiple->low_peak > 0.6 * found.low_peak;
    if (own_peak && multiple->depth < 0.35 * found.depth && more < 1.6) return *multiple;
    if (more < 1.1 && multiple->depth < 0.6 * found.depth && multiple->low_peak > 1.5) return *multiple;
  }
  return found;
}

bool fits(const Case& on) {
  return on.depth < -0.05 && on.dip < no_dip &&
         (on.residual < rounding_floor || (on.residual < noisy_floor && on.depth < -0.8) ||
          (on.residual < contrast_floor && on.depth < -1.2));
}

/// Decides between a factor below 2 and its larger alias.
Choice against_larger(const std::vector<Case>& cases, const Case& found) {
  const Case* larger = find_case(cases, alias_of(found.factor));
  const bool also = larger && fits(*larger);
  if (is_too_wide(found)) {
    if (also) return {with_multiples(cases, *larger), {}, false};
    return {{}, "it is too smooth to tell", true};
  }
  if (also && larger->residual < 1.03 * found.residual && larger->depth < 0.3 * found.depth)
    return {with_multiples(cases, *larger), {}, false};
  if (also &&
      ((larger->depth < 0.35 * found.depth && found.depth > -0.7) || larger->depth < 0.8 * found.depth))
    return {{}, "it is too soft to tell which of two enlargements it shows", true};
  return {with_multiples(cases, found), {}, false};
}

/// The smaller alias of a factor above 2, where it leaves much less and dips as deep.
const Case* better_smaller(const std::vector<Case>& cases, const Case& found) {
  if (found.factor < 2.04 || found.residual < 0.35) return nullptr;
  const Case* smaller = find_case(cases, alias_of(found.factor));
  const bool better = smaller && smaller->residual < 0.7 * found.residual &&
                      smaller->depth < 0.8 * found.depth && !is_too_wide(*smaller) && is_convincing(*smaller);
  return better ? smaller : nullptr;
}

/// The depth that any guess reaches, however little else speaks for it.
double deepest(const std::vector<Case>& cases) {
  double depth = 0.0;
  for (const Case& on : cases)
    if (on.low_peak >= 2.0 && on.residual < rounding_floor && on.dip < no_dip && !on.unscaled_tooth)
      depth = std::min(depth, on.depth);
  return depth;
}

/// What an axis says best of a factor or its nearest neighbours: whole pixels make the axes differ a little.
const AxisSays& best_near(const std::vector<Guess>& guesses, double factor, AxisSays Guess::*axis) {
  const AxisSays* best = nullptr;
  for (const Guess& guess : guesses)
    if (near(guess.factor, factor, same_factor) && (!best || (guess.*axis).fit.dip < best->fit.dip))
      best = &(guess.*axis);
  return *best;
}

Case case_of(const std::vector<Guess>& guesses, const Guess& guess, Axes axes) {
  const AxisSays& x = axes == Axes::both ? best_near(guesses, guess.factor, &Guess::x) : guess.x;
  const AxisSays& y = axes == Axes::both ? best_near(guesses, guess.factor, &Guess::y) : guess.y;
  const AxisSays &first = axes == Axes::y ? y : x, &second = axes == Axes::x ? x : y;
  Case on;
  on.factor = guess.factor;
  on.low_peak = std::min(first.peak, second.peak);
  on.high_peak = std::max(first.peak, second.peak);
  on.residual = std::max(first.fit.residual, second.fit.residual);
  on.least_residual = std::min(first.fit.residual, second.fit.residual);
  on.dip = std::max(first.fit.dip, second.fit.dip);
  on.depth = std::log(first.fit.dip) + std::log(second.fit.dip);
  on.named = first.named && second.named;
  on.is_pitch = first.is_pitch || second.is_pitch;
  on.unscaled_tooth = first.unscaled_tooth || second.unscaled_tooth;
  on.other_tooth = first.other_tooth || second.other_tooth;
  on.kernel = first.fit.dip < second.fit.dip ? first.fit.kernel : second.fit.kernel;
  return on;
}

}  // namespace

std::vector<Case> cases_on(const std::vector<Guess>& guesses, Axes axes) {
  std::vector<Case> cases;
  for (const Guess& guess : guesses) cases.push_back(case_of(guesses, guess, axes));
  return cases;
}

const Case* find_case(const std::vector<Case>& cases, double factor) {
  const Case* best = nullptr;
  for (const Case& on : cases)
    if (near(on.factor, factor, 0.006) && (!best || on.depth < best->depth)) best = &on;
  return best;
}

double alias_of(double factor) { return 1.0 / (1.0 - 1.0 / factor); }

bool is_plausible(const Case& on) {
  if (on.residual > (is_clear(on) ? contrast_floor : noisy_floor) || on.dip > no_dip) return false;
  const bool deep = on.depth < -1.2 && on.factor > (on.kernel == Kernel::area ? 3.0 : 1.6);
  if (!on.named && !deep && (on.low_peak < 2.0 || on.high_peak < 4.0)) return false;
  if (on.unscaled_tooth && !(on.depth < -1.6 && on.factor > 1.3)) return false;
  return !on.other_tooth || on.depth < -0.4;
}

Choice choose(const std::vector<Case>& cases) {
  const Case* best = nullptr;
  for (const Case& on : cases)
    if (is_plausible(on) && is_convincing(on) && (!best || on.depth < best->depth)) best = &on;
  if (!best) return {{}, "it is too soft or too smooth to tell", false};
  if (best->depth > 0.6 * std::min(deepest(cases), best->depth))
    return {{}, "what it shows may be enlargement or a pattern of its own", true};
  if (best->factor < 2.0) return against_larger(cases, *best);
  if (const Case* smaller = better_smaller(cases, *best)) return {*smaller, {}, false};
  return {with_multiples(cases, *best), {}, false};
}

bool is_contradicted(const std::vector<Case>& cases_of_axis, double factor) {
  const Case* here = find_case(cases_of_axis, factor);
  if (!here) return false;
  const auto kin = [&](double other) {
    for (const double whole : {factor, alias_of(factor)})
      for (const double part : {1.0, 2.0, 3.0, 4.0})
        if (near(other, whole / part, 0.02)) return true;
    return false;
  };
  return std::ranges::any_of(cases_of_axis, [&](const Case& on) {
    return !kin(on.factor) && is_plausible(on) && on.residual < rounding_floor && !is_too_wide(on) &&
           on.depth < here->depth - 0.3;
  });
}

bool is_strong(const Case& on_axis) {
  return on_axis.dip < 0.45 || (on_axis.dip < 0.65 && on_axis.low_peak >= 8.0) ||
         (on_axis.dip < 0.93 && on_axis.low_peak >= 10.0);
}

}  // namespace frisket
