#include "page/resampling/weights.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace frisket {
namespace {

constexpr double rounding =
    0.25;  // grey levels that rounding alone leaves of luma, between colour's and grey's
constexpr double most_depth = 3.0;
constexpr double least_height = 0.3;  // of peaks that are none

double depth(const AxisSays& says) {
  return std::clamp(-std::log(std::max(says.fit.dip, 1e-3)), 0.0, most_depth);
}
double height(const AxisSays& says) { return std::log(std::max(says.peak, least_height)); }
double excess(double value, double from, double to = 1e9) { return std::clamp(value, from, to) - from; }
double flag(bool is) { return is ? 1.0 : 0.0; }

/// What the other guesses of an axis say of one of them.
class Others {
 public:
  Others(const std::vector<Guess>& guesses, AxisSays Guess::*axis) : guesses_(guesses), axis_(axis) {}

  double highest_peak() const {
    double most = 1.0;
    for (const Guess& guess : guesses_) most = std::max(most, (guess.*axis_).peak);
    return std::log(most);
  }

  /// The guess of about that factor with the deepest dip; null where nobody made it.
  const AxisSays* at(double factor) const {
    constexpr double same = 0.012;
    const AxisSays* best = nullptr;
    for (const Guess& guess : guesses_)
      if (std::abs(guess.factor / factor - 1.0) < same && (!best || (guess.*axis_).fit.dip < best->fit.dip))
        best = &(guess.*axis_);
    return best;
  }

  /// The greatest of what `measure` says of the guesses at 2, 3 and 4 times `factor`, or of it divided by
  /// those.
  template <class Measure>
  double most_of_kin(double factor, bool multiples, double none, Measure measure) const {
    double most = none;
    bool any = false;
    for (const double times : {2.0, 3.0, 4.0}) {
      const AxisSays* kin = at(multiples ? factor * times : factor / times);
      if (!kin) continue;
      most = any ? std::max(most, measure(*kin)) : measure(*kin);
      any = true;
    }
    return most;
  }

 private:
  const std::vector<Guess>& guesses_;
  AxisSays Guess::*axis_;
};

double log_ratio(double a, double b, double floor) {
  return std::log(std::max(a, floor) / std::max(b, floor));
}

// What the weights belong to, in their order.
enum Evidence : std::size_t {
  any,          // 1
  dips,         // depth of the dip: how much less one phase leaves than the others
  dips_at_all,  // the same, up to a little
  dips_far,     // the same, from a lot on
  peaks,        // height of the spectrum at one picture pixel
  peaks_high,   // what it has beyond a clear peak
  leaves,       // more than rounding, at the best phase
  leaves_much,
  too_wide,  // less than rounding: the space holds anything
  named,
  pitch,
  unscaled_tooth,
  other_tooth,
  below_1_15,
  below_1_5,
  below_2,
  size,  // logarithm of the factor
  area,  // the area filter, at factors where others look like it
  dips_below_1_5,
  fine_detail,     // the axis holds detail that such an enlargement cannot
  beside_highest,  // its peak against the axis's highest
  alias_leaves,    // what its alias leaves, against its own
  alias_dips,
  multiple_peaks,
  multiple_dips,
  multiple_leaves,
  part_dips,
};

/// What the filter and its space say.
void add_fit(double factor, const AxisSays& says, std::array<double, evidence_count>& is) {
  const double depth_is = depth(says), left = std::log(std::max(says.fit.residual, 0.05) / rounding);
  is[any] = 1.0;
  is[dips] = depth_is;
  is[dips_at_all] = std::min(depth_is, 0.15);
  is[dips_far] = excess(depth_is, 0.7);
  is[leaves] = std::clamp(left, 0.0, 0.9);
  is[leaves_much] = excess(left, 0.9);
  is[too_wide] = factor < 2.0 ? excess(-left, 0.25) : 0.0;
  is[below_1_15] = flag(factor < 1.15);
  is[below_1_5] = flag(factor < 1.5);
  is[below_2] = flag(factor < 2.0);
  is[size] = std::log(factor);
  is[area] = flag(says.fit.kernel == Kernel::area && factor < 3.0);
  is[dips_below_1_5] = factor < 1.5 ? depth_is : 0.0;
  is[fine_detail] = factor > 1.5 ? std::log(std::max(says.fine_detail, 1.0)) : 0.0;
}

/// What the spectrum and the picture's JPEG grid say.
void add_grid(const AxisSays& says, std::array<double, evidence_count>& is) {
  constexpr double clear = 1.6, most = 4.0;
  is[peaks] = std::min(height(says), clear);
  is[peaks_high] = excess(height(says), clear, most);
  is[named] = flag(says.named);
  is[pitch] = flag(says.is_pitch);
  is[unscaled_tooth] = flag(says.unscaled_tooth);
  is[other_tooth] = flag(says.other_tooth);
}

/// What speaks for its alias, a multiple or a part of it instead.
void add_others(const Others& others, double factor, const AxisSays& says,
                std::array<double, evidence_count>& is) {
  is[beside_highest] = height(says) - others.highest_peak();
  const double alias = factor / (factor - 1.0);  // its peak lies at 1 - f cycles a pixel, which looks like f
  if (const AxisSays* on = std::abs(alias / factor - 1.0) > 0.03 ? others.at(alias) : nullptr) {
    is[alias_leaves] = std::clamp(log_ratio(on->fit.residual, says.fit.residual, 0.15), -1.0, 1.0);
    is[alias_dips] = std::clamp(depth(*on) - depth(says), -1.0, 1.0);
  }
  is[multiple_peaks] = others.most_of_kin(factor, true, 0.0, [&](const AxisSays& kin) {
    return std::clamp(log_ratio(kin.peak, says.peak, 1.0), -1.0, 1.5);
  });
  is[multiple_dips] = others.most_of_kin(factor, true, 0.0, depth);
  is[multiple_leaves] = others.most_of_kin(factor, true, -0.5, [&](const AxisSays& kin) {
    return std::clamp(log_ratio(says.fit.residual, kin.fit.residual, 0.2), -0.5, 0.5);
  });
  is[part_dips] = others.most_of_kin(factor, false, 0.0, depth);
}

constexpr std::array<double, evidence_count> weights{0.125,  3.136,  1.849, -0.037, 0.434,  -0.169, -1.745,
                                                     -2.072, -1.171, 0.55,  2.026,  -2.077, -0.266, -0.478,
                                                     -0.013, -0.56,  0.028, -0.354, -1.45,  0.203,  1.263,
                                                     0.15,   -1.589, 0.178, -0.933, -1.247, 0.063};
constexpr UnequalCost weights_of_unequal{-3.272, -0.96};

}  // namespace

std::array<double, evidence_count> evidence_for(const std::vector<Guess>& guesses, std::size_t number,
                                                AxisSays Guess::*axis) {
  std::array<double, evidence_count> is{};
  const Guess& guess = guesses[number];
  add_fit(guess.factor, guess.*axis, is);
  add_grid(guess.*axis, is);
  add_others(Others(guesses, axis), guess.factor, guess.*axis, is);
  return is;
}

std::vector<double> speaks_for(const std::vector<Guess>& guesses, AxisSays Guess::*axis) {
  std::vector<double> odds;
  for (std::size_t i = 0; i < guesses.size(); ++i) {
    const std::array<double, evidence_count> is = evidence_for(guesses, i, axis);
    odds.push_back(std::inner_product(is.begin(), is.end(), weights.begin(), 0.0));
  }
  return odds;
}

UnequalCost unequal_cost() { return weights_of_unequal; }

}  // namespace frisket
