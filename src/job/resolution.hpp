#pragma once

#include <optional>

#include "job/field.hpp"

namespace frisket {

/// Resolution of pictures, pixels per inch.
struct Resolution {
  double wanted, least;
};

/// What passes where only one of the two is known: three quarters of what is wanted. A teaching sheet on
/// image resolution calls 75 to 150 % of the target acceptable (230 to 460 ppi at 150 lines per inch); it
/// is also the default pair, 225 of 300 ppi.
inline constexpr double least_share = 0.75;

/// Reads "screen" (ruling in lines per inch) with "quality" (pixels per line, default 2): wanted = screen x
/// quality. Or "viewing_distance": wanted = 1 / (2 d tan(a/2)) with a = 1 arcminute, what an eye of normal
/// acuity resolves; 3438 / d in inches. Empty where the object has neither. Throws Error that names place,
/// value and what was expected, also where they stand beside each other or beside wanted and least.
std::optional<Resolution> read_derived_resolution(const Field& resolution);

}  // namespace frisket
