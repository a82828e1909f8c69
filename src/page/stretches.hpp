#pragma once

#include <vector>

#include "frisket/page.hpp"

namespace frisket {

/// Lines of a block that follow one another are told together. `told` says of each of Page::lines whether
/// there is something to tell of it; the result gives each of these the number of its stretch, from 0, and -1
/// to all others. One row of the block that keeps clear may lie within a stretch, as happens all along a
/// ragged margin; two part it, so that a finding does not enclose a column of which hardly a line is at
/// fault.
std::vector<int> stretches(const Page& page, const std::vector<bool>& told);

}  // namespace frisket
