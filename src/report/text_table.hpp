#pragma once

#include <string>
#include <vector>

namespace frisket {

/// One row of cells of ASCII text.
using TableRow = std::vector<std::string>;

/// Rows of equal length as lines, indented by two blanks: the first column set to the left, all others to the
/// right, two blanks apart. Columns that are empty in every row but the first are left out.
std::string text_table(const std::vector<TableRow>& rows);

}  // namespace frisket
