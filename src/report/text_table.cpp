#include "report/text_table.hpp"

#include <algorithm>

namespace frisket {
namespace {

std::size_t width_of(const std::vector<TableRow>& rows, std::size_t column) {
  std::size_t width = 0, below_heading = 0;
  for (const TableRow& row : rows) {
    width = std::max(width, row[column].size());
    if (&row != &rows.front()) below_heading = std::max(below_heading, row[column].size());
  }
  return below_heading == 0 ? 0 : width;
}

}  // namespace

std::string text_table(const std::vector<TableRow>& rows) {
  std::vector<std::size_t> widths;
  for (std::size_t column = 0; column < rows.front().size(); ++column)
    widths.push_back(width_of(rows, column));
  std::string text;
  for (const TableRow& row : rows) {
    text += "  " + row[0] + std::string(widths[0] - std::min(widths[0], row[0].size()), ' ');
    for (std::size_t column = 1; column < row.size(); ++column)
      if (widths[column] > 0) text += std::string(widths[column] - row[column].size() + 2, ' ') + row[column];
    text.erase(text.find_last_not_of(' ') + 1);
    text += "\n";
  }
  return text;
}

}  // namespace frisket
