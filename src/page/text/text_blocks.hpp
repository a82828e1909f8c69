#pragma once

#include <vector>

#include "page/text/glyphs.hpp"

namespace frisket {

/// Puts lines of one size, ink and column together, sets their `block`, and returns the blocks; their boxes
/// are left to the caller.
std::vector<TextBlock> blocks_of(std::vector<TextLine>& lines, Glyphs& glyphs);

}  // namespace frisket
