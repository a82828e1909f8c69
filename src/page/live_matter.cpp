#include "page/live_matter.hpp"

#include <algorithm>

namespace frisket {

std::vector<LiveMatter> live_matter(const Page& page) {
  std::vector<LiveMatter> items;
  for (const TextLine& line : page.lines) {
    const auto number = static_cast<int>(items.size());
    LiveMatter item{line.letters, Matter::text, line.box, number, line.parent};
    for (const int letter : line.letters)
      item.touches_canvas |= page.elements[static_cast<std::size_t>(letter)].touches_canvas;
    items.push_back(std::move(item));
  }
  for (const std::vector<int>& drawing : page.drawings) {
    const Element& first = page.elements[static_cast<std::size_t>(drawing.front())];
    LiveMatter item{drawing, first.matter, {}, -1, first.parent, false, first.ink};
    for (const int part : drawing) {
      const Element& element = page.elements[static_cast<std::size_t>(part)];
      item.box = united(item.box, element.box);
      item.touches_canvas |= element.touches_canvas;
    }
    if (drawing.size() > 1) item.matter = Matter::drawing, item.ink = 1.0;
    items.push_back(std::move(item));
  }
  const auto depth = [&](const LiveMatter& item) {
    int above = 0;
    for (int e = item.parent; e >= 0; e = page.elements[static_cast<std::size_t>(e)].parent) ++above;
    return above;
  };
  std::ranges::stable_sort(items, {}, depth);
  return items;
}

}  // namespace frisket
