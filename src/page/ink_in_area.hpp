#pragma once

#include <optional>
#include <span>

#include "frisket/page.hpp"

namespace frisket {

/// The box of the ink of `members` (indices of elements, with all that stands on them) inside `area`, in job
/// space. Sides that the area cuts are the area's own; the others are exact where the element ends there,
/// else good to a pixel. Empty where none of their ink lies inside.
std::optional<Rect> ink_in_area(const Page& page, std::span<const int> members, const Rect& area);

}  // namespace frisket
