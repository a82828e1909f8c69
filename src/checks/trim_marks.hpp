#pragma once

#include <vector>

#include "frisket/finding.hpp"
#include "frisket/page.hpp"

namespace frisket {

/// What page-size says of the marks on a canvas and of the boxes of a PDF page: that they are not the
/// job's, that they do not agree, that the page lies crooked, and, as a note, that the trim was placed by
/// them.
std::vector<Finding> findings_of_marks_and_boxes(const Page& page, const Job& job);

}  // namespace frisket
