#pragma once

#include <span>
#include <string>
#include <vector>

#include "job/field.hpp"

namespace frisket {

/// The keys of a ticket or printer's file that carry limits: "bleed", "fold_safe", "resolution".
std::vector<std::string> limit_keys(std::span<const LimitSpec> specs);

/// The limits of `layers` (printer, ticket, flags, in this order; later ones win) over their defaults.
/// "resolution" may also be {"screen": 150, "quality": 2} or {"viewing_distance": "1 m"}. Throws Error that
/// names place, value and what was expected.
Limits read_limits(std::span<const Layer> layers, std::span<const LimitSpec> specs);

}  // namespace frisket
