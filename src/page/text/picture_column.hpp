#pragma once

#include <vector>

#include "frisket/page.hpp"
#include "page/text/letter_rows.hpp"
#include "page/zones/box_grid.hpp"
#include "page/zones/scale.hpp"

namespace frisket {

std::vector<PixelRect> boxes_of(const std::vector<Element>& elements);

/// Is a row that runs down the page, on the element `parent` (-1: on the page), a column of pictures? They
/// are larger than type that is turned, or have captions between them, as in catalogues and tables of signs:
/// between the letters of a line there is little but dots and accents. `boxes` holds those of all elements.
bool is_picture_column(const Row& row, int parent, const std::vector<Element>& elements, const BoxGrid& boxes,
                       const Scale& scale);

}  // namespace frisket
