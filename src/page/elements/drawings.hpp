#pragma once

#include <vector>

#include "frisket/page.hpp"
#include "page/grounds/grounds.hpp"

namespace frisket {

/// Puts together the elements that are parts of one drawing: what is neither text nor picture, stands on the
/// same ground and lies within a millimetre of one another, and dots and dashes of like size in a row. Each
/// group is sorted; lone elements are groups of one. Guides, patterns and the specks of JPEG are left out.
std::vector<std::vector<int>> group_drawings(const std::vector<Element>& elements, const Scale& scale);

}  // namespace frisket
