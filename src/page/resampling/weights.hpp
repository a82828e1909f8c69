#pragma once

#include <array>
#include <vector>

#include "page/resampling/guesses.hpp"

namespace frisket {

/// How strongly an axis speaks for each of the guesses: the logarithm of the odds against 'not enlarged',
/// before all guesses are weighed against each other. `axis`: &Guess::x or &Guess::y. The weights were fitted
/// by tools/resolution/weigh.py (multinomial logistic regression) to pictures of known factor, the tuning
/// photographs alone.
std::vector<double> speaks_for(const std::vector<Guess>& guesses, AxisSays Guess::*axis);

/// What it costs a pair of factors that its axes differ, and that they do so by less than a tenth.
struct UnequalCost {
  double any, small;
};
UnequalCost unequal_cost();

/// What one axis shows of guess `number`, in the order of the weights.
inline constexpr std::size_t evidence_count = 27;
std::array<double, evidence_count> evidence_for(const std::vector<Guess>& guesses, std::size_t number,
                                                AxisSays Guess::*axis);

}  // namespace frisket
