#pragma once

#include "job/covers.hpp"
#include "job/field.hpp"

namespace frisket {

/// Reads "cover". Throws Error that names the place, the value and what was expected, also for keys that do
/// not go with the kind of cover.
CoverRequest read_cover(const Field& field);

}  // namespace frisket
