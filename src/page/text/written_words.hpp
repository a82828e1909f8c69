#pragma once

#include <vector>

#include "page/text/glyphs.hpp"

namespace frisket {

/// Words of joined scripts (Devanagari with its head line, Arabic, script faces), and of few letters, among
/// elements on one ground that are in no line: a heap of strokes of one ink, close together, as even in width
/// as a pen's and long against the height of the whole. Each is a list of elements.
std::vector<std::vector<int>> written_words(const std::vector<int>& members,
                                            const std::vector<Element>& elements, Glyphs& glyphs);

}  // namespace frisket
