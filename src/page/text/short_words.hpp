#pragma once

#include <vector>

#include "page/text/glyphs.hpp"
#include "page/text/slanted_lines.hpp"

namespace frisket {

/// Words of two letters at any angle (`No`, `5a`), with a stop or without, among elements on one ground that
/// are in no line. Two letters do not say their angle by themselves: it is that of the smallest box round
/// both, as for single shapes (Freeman and Shapira, Communications of the ACM 18(7), 1975, from memory).
std::vector<SlantedLine> short_words(const std::vector<int>& members, const std::vector<Element>& elements,
                                     Glyphs& glyphs);

}  // namespace frisket
