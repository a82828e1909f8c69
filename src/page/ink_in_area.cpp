#include "page/ink_in_area.hpp"

#include <algorithm>
#include <cmath>

#include "page/maps.hpp"
#include "page/zones/pixel_boxes.hpp"

namespace frisket {
namespace {

bool is_of(const Page& page, int element, int member) {
  while (element >= 0 && element != member) element = page.elements[static_cast<std::size_t>(element)].parent;
  return element == member;
}

/// Box of a member's own pixels inside `window`, whole pixels.
cv::Rect pixels_of(const Page& page, int member, const cv::Rect& window) {
  int left = window.br().x, top = window.br().y, right = -1, bottom = -1;
  for (int y = window.y; y < window.br().y; ++y)
    for (const Run& run : page.maps->element.row(y)) {
      const int from = std::max(run.begin, window.x), to = std::min(run.end, window.br().x);
      if (from >= to || !is_of(page, run.label, member)) continue;
      left = std::min(left, from), right = std::max(right, to);
      top = std::min(top, y), bottom = std::max(bottom, y + 1);
    }
  return right < 0 ? cv::Rect() : cv::Rect(cv::Point(left, top), cv::Point(right, bottom));
}

}  // namespace

std::optional<Rect> ink_in_area(const Page& page, std::span<const int> members, const Rect& area) {
  const PixelRect area_px = page.placement.pixels_of(area);
  const cv::Rect canvas({}, page.maps->element.size());
  Rect found;
  for (const int member : members) {
    const Element& element = page.elements[static_cast<std::size_t>(member)];
    const Rect exact = intersection(element.box, area);
    if (exact.empty()) continue;
    const cv::Rect window = whole_pixels(area_px) & whole_pixels(element.box_px) & canvas;
    const cv::Rect pixels = pixels_of(page, member, window);
    if (pixels.empty()) continue;
    const Rect box = page.placement.rect_of(
        {double(pixels.x), double(pixels.y), double(pixels.width), double(pixels.height)});
    found = united(found, intersection(box, exact));
  }
  return found.empty() ? std::nullopt : std::optional(found);
}

}  // namespace frisket
