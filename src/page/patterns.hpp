#pragma once

#include <vector>

#include "frisket/page.hpp"
#include "page/elements.hpp"
#include "page/grounds.hpp"

namespace frisket {

/// Marks the fields that are stripes or tiles of a pattern: six and more of one colour that all bleed. What
/// ends at such a field is neither a colour break nor a short bleed.
void mark_repeating_fields(SurfaceMap& map);

/// Marks the elements that are the dots or figures of a pattern: many of one colour and size on the same
/// ground that either have several of their colour cut by the canvas edge, or lie on a lattice that fills an
/// area and goes on to the canvas edge, as no text or drawing does.
void mark_repeating_elements(ElementTree& tree, const Scale& scale);

}  // namespace frisket
