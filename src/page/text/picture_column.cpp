#include "page/text/picture_column.hpp"

#include <algorithm>

#include "page/text/neighbourhood.hpp"

namespace frisket {
namespace {

constexpr double tallest_turned_mm = 45.0;  // of type that runs down the page
constexpr double caption_size = 0.05;       // of a caption's letters, of the tallest picture's; less is dust
// Elements between the letters, or in lines of their own, for each tall letter.
constexpr int most_between = 2;

bool holds_middle(const PixelRect& whole, const PixelRect& box) {
  const double x = box.x + box.width / 2, y = box.y + box.height / 2;
  return x > whole.x && x < whole.right() && y > whole.y && y < whole.bottom();
}

}  // namespace

std::vector<PixelRect> boxes_of(const std::vector<Element>& elements) {
  std::vector<PixelRect> boxes;
  for (const Element& element : elements) boxes.push_back(element.box_px);
  return boxes;
}

bool is_picture_column(const Row& row, int parent, const std::vector<Element>& elements, const BoxGrid& boxes,
                       const Scale& scale) {
  const auto of = [&](int number) -> const Element& { return elements[static_cast<std::size_t>(number)]; };
  PixelRect whole = of(row.front().element).box_px;
  for (const Letter& letter : row) whole = united(whole, of(letter.element).box_px);
  const double tallest = tallest_of(row), least = caption_size * tallest;
  if (tallest > scale.px(tallest_turned_mm)) return true;
  const Row tall = tall_ones(row);
  int between = 0;
  boxes.near(whole, least, [&](int i) {
    const PixelRect& box = of(i).box_px;
    if (of(i).parent != parent || size_of(box) < least || !holds_middle(whole, box)) return;
    between += of(i).line >= 0 || std::ranges::none_of(tall, [&](const Letter& letter) {
                 return holds_middle(of(letter.element).box_px, box);
               });
  });
  return between > most_between * static_cast<int>(tall.size());
}

}  // namespace frisket
