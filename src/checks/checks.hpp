#pragma once

// One declaration a check; each is written, with its limits, in a file of its own.
#include "frisket/check.hpp"

namespace frisket {

extern const Check page_size_check;
extern const Check safe_zone_check;
extern const Check bleed_check;
extern const Check folds_check;
extern const Check resolution_check;

}  // namespace frisket
