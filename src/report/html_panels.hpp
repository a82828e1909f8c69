#pragma once

#include <span>
#include <string>
#include <vector>

#include "frisket/inspect.hpp"

namespace frisket {

/// Each panel of a folded side cut out of the page's picture under its name, in the order in which they are
/// read; what is glued down is left out. `scale` is drawing units per canvas pixel, `anchor` the page's.
/// Empty where nothing is folded or the page could not be placed.
std::string html_panels(const Report& report, double scale, const std::string& anchor);

/// The panels of both sides of one piece in one order of reading, out of what html_panels() made of each
/// side. Empty where one of them has none.
std::string html_folded_piece(const std::string& outside_page, const std::string& inside_page);

/// The panels of `side` in the order of reading, as indices: the front cover first, the back cover last, what
/// lies between as it is met while the piece is opened; else as they stand, left to right and top to bottom.
std::vector<std::size_t> reading_order(const SideLayout& side);

/// Where a panel comes when the piece is read, by its name, which says what the fold makes of it; panels of
/// one rank follow in the order in which they stand.
int reading_rank(std::string_view name);

}  // namespace frisket
