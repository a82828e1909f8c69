#pragma once

#include <optional>
#include <string>
#include <vector>

#include "raster/file_facts.hpp"

namespace frisket {

/// What a file's statements about its resolution come to, dots per inch. Empty where it makes none, or none
/// that can be meant (below 10 or above 10 000 dpi, not a number), where X and Y differ by more than 1 %, or
/// where two statements contradict each other by as much; a note then says so.
std::optional<double> agreed_dpi(const std::vector<StatedResolution>& stated,
                                 std::vector<std::string>& notes);

}  // namespace frisket
