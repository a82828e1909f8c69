#include <array>

#include "checks/checks.hpp"

namespace frisket {

// The order here is the order of the report. A new check is one line: explicit, because a static library
// silently drops checks that register themselves.
std::span<const Check> all_checks() {
  static const std::array checks{page_size_check, safe_zone_check, bleed_check, folds_check,
                                 resolution_check};
  return checks;
}

std::vector<LimitSpec> all_limits() {
  std::vector<LimitSpec> limits;
  for (const Check& check : all_checks())
    limits.insert(limits.end(), check.limits.begin(), check.limits.end());
  return limits;
}

}  // namespace frisket
