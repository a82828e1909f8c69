#pragma once

#include <string>
#include <vector>

#include "frisket/inspect.hpp"

namespace frisket {

/// Each panel of a folded side cut out of the page's picture under its name, in the order in which they are
/// read. `scale` is drawing units per canvas pixel, `anchor` the page's. Empty where nothing is folded or the
/// page could not be placed.
std::string html_panels(const Report& report, double scale, const std::string& anchor);

/// The panels of `side` in the order of reading, as indices: the front cover first, the back cover last, what
/// lies between as it is met while the piece is opened; else as they stand, left to right and top to bottom.
std::vector<std::size_t> reading_order(const SideLayout& side);

}  // namespace frisket
