#pragma once

#include <vector>

#include "page/elements/patterns.hpp"

namespace frisket {

/// Is a field long and thin?
bool is_stripe_shaped(const Surface& field);

/// Makes one surface of the fields that take turns as broad stripes, of which several bleed: a striped ground
/// is one ground. Stripes on paper stay what they are. Returns both colours of each such ground as patterns:
/// what type has cut out of its stripes is still to be given to it.
std::vector<Pattern> merge_stripes(SurfaceMap& map, const Scale& scale);

}  // namespace frisket
