#include "page/text/text_blocks.hpp"

#include <algorithm>

#include "page/zones/box_grid.hpp"
#include "page/zones/groups.hpp"

namespace frisket {
namespace {

constexpr double leading = 1.3;          // largest gap between lines of a block, of the line height
constexpr double leading_aligned = 2.2;  // the same where they begin at one margin
constexpr double margin_ratio = 0.3;     // of the line height: two lines begin at one margin
constexpr double line_ratio = 1.7;       // of the heights of two lines of a block
constexpr double shared_measure = 0.3;   // of the shorter line's length

PixelRect transposed(const PixelRect& r) { return {r.y, r.x, r.height, r.width}; }

/// The line's box as if it ran along x.
PixelRect lying_box(const TextLine& line) { return line.vertical ? transposed(line.box_px) : line.box_px; }

bool same_column(const PixelRect& a, const PixelRect& b) {
  const double taller = std::max(a.height, b.height), smaller = std::min(a.height, b.height);
  const double gap = std::max(a.y, b.y) - std::min(a.bottom(), b.bottom());
  const double shared = std::min(a.right(), b.right()) - std::max(a.x, b.x);
  const bool aligned = std::abs(a.x - b.x) <= margin_ratio * smaller;
  return taller <= line_ratio * smaller && gap <= (aligned ? leading_aligned : leading) * smaller &&
         shared >= shared_measure * std::min(a.width, b.width);
}

/// Lines of two inks belong together only where one is set right under the other, in one size at one margin.
bool set_as_one(const PixelRect& a, const PixelRect& b) {
  const double taller = std::max(a.height, b.height), smaller = std::min(a.height, b.height);
  const double gap = std::max(a.y, b.y) - std::min(a.bottom(), b.bottom());
  return taller <= 1.25 * smaller && gap <= smaller && std::abs(a.x - b.x) <= margin_ratio * smaller;
}

}  // namespace

std::vector<TextBlock> blocks_of(std::vector<TextLine>& lines, Glyphs& glyphs) {
  Groups groups(lines.size());
  for (const bool vertical : {false, true}) {
    std::vector<PixelRect> boxes;
    std::vector<int> numbers;
    for (std::size_t i = 0; i < lines.size(); ++i)
      if (lines[i].vertical == vertical) {
        boxes.push_back(lying_box(lines[i]));
        numbers.push_back(static_cast<int>(i));
      }
    const BoxGrid grid(boxes);
    const auto line_of = [&](std::size_t k) -> TextLine& {
      return lines[static_cast<std::size_t>(numbers[k])];
    };
    for (std::size_t i = 0; i < boxes.size(); ++i)
      grid.near(grown(boxes[i], 0, leading_aligned * boxes[i].height), 0.0, [&](int other) {
        const auto j = static_cast<std::size_t>(other);
        if (i < j && line_of(i).parent == line_of(j).parent && same_column(boxes[i], boxes[j]) &&
            (set_as_one(boxes[i], boxes[j]) ||
             inks_alike(glyphs.ink(line_of(i).letters.front()), glyphs.ink(line_of(j).letters.front()))))
          groups.unite(numbers[i], numbers[j]);
      });
  }
  std::vector<TextBlock> blocks;
  for (std::vector<int>& group : groups.all()) {
    for (const int line : group)
      lines[static_cast<std::size_t>(line)].block = static_cast<int>(blocks.size());
    blocks.push_back({std::move(group), {}});
  }
  return blocks;
}

}  // namespace frisket
