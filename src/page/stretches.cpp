#include "page/stretches.hpp"

#include <algorithm>

namespace frisket {
namespace {

struct Extent {
  Length begin, end;  ///< down the block, or across a block of vertical lines
  Length middle() const { return (begin + end) / 2.0; }
};

Extent extent_of(const TextLine& line) {
  return line.vertical ? Extent{line.box.x, line.box.right()} : Extent{line.box.y, line.box.bottom()};
}

}  // namespace

std::vector<int> stretches(const Page& page, const std::vector<bool>& told) {
  std::vector<int> numbers(page.lines.size(), -1);
  int next = 0;
  for (const TextBlock& block : page.blocks) {
    std::vector<int> lines = block.lines;
    const auto extent = [&](int line) { return extent_of(page.lines[static_cast<std::size_t>(line)]); };
    std::ranges::stable_sort(lines, {}, [&](int line) { return extent(line).middle(); });
    int current = -1, rows_clear = 0;
    Length row_end;
    for (const int line : lines) {
      // Beside a line of its own row a piece of text parts nothing.
      const bool new_row = current >= 0 && extent(line).middle() > row_end;
      if (told[static_cast<std::size_t>(line)]) {
        if (current < 0 || rows_clear > 1) current = next++;
        numbers[static_cast<std::size_t>(line)] = current;
        rows_clear = 0;
        row_end = extent(line).end;
      } else if (new_row) {
        ++rows_clear;
        row_end = extent(line).end;
      }
    }
  }
  return numbers;
}

}  // namespace frisket
