#pragma once

#include <string>
#include <vector>

#include "job/folds.hpp"

namespace frisket {

/// What the panels of a side are called, row by row as that side is seen.
std::vector<std::string> inside_names(const FoldRequest& request, std::size_t columns, std::size_t rows,
                                      Turn turn);
/// Likewise for the outside.
std::vector<std::string> outside_names(const FoldRequest& request, std::size_t columns, std::size_t rows,
                                       Turn turn);

}  // namespace frisket
