#include "page/text/written_words.hpp"

#include <algorithm>
#include <cmath>

#include "page/text/neighbourhood.hpp"

namespace frisket {
namespace {

constexpr double heap_reach = 0.3;  // of the smaller one's size, between strokes of a word
// What words of Devanagari, Arabic and script faces measure, and drawings (rings, an envelope) do not; found
// on drawn pages. All are shares of the word's height.
constexpr double thinnest = 0.03, boldest = 0.3;  // strokes
constexpr double most_uneven = 1.4;               // of the strokes' width: Arabic swells and tapers
constexpr double strokes_of_one = 7.0;            // length of all strokes of an element that stands alone
constexpr double strokes_of_several = 4.2;        // and of several in a row, longer than drawings are
constexpr double least_aspect = 1.35, aspect_of_several = 1.45;
constexpr double least_height_px = 8.0;
// Where head line and letters meet, and where small type is set, the widths of strokes say little: there is
// so much stroke to so long a thing that nothing else is drawn like it.
constexpr double dense_strokes = 10.0, dense_aspect = 2.5, most_uneven_dense = 3.0;

struct Extent {
  double height, length;
};

/// Of the smallest rectangle round all of them, at whatever angle.
Extent extent_of(const std::vector<int>& heap, Glyphs& glyphs) {
  std::vector<cv::Point2f> points;
  for (const int member : heap) {
    const std::vector<cv::Point2f> outline = glyphs.outline(member);
    points.insert(points.end(), outline.begin(), outline.end());
  }
  const cv::Size2f size = cv::minAreaRect(points).size;
  return {std::min(size.width, size.height), std::max(size.width, size.height)};
}

bool reads_as_word(const std::vector<int>& heap, Glyphs& glyphs) {
  const Extent extent = extent_of(heap, glyphs);
  if (extent.height < least_height_px || extent.length < least_aspect * extent.height) return false;
  const Strokes strokes = glyphs.strokes(heap);
  const bool dense =
      extent.length >= dense_aspect * extent.height && strokes.length >= dense_strokes * extent.height;
  const bool several = heap.size() > 1 && extent.length >= aspect_of_several * extent.height;
  return strokes.width >= thinnest * extent.height && strokes.width <= boldest * extent.height &&
         strokes.spread <= (dense ? most_uneven_dense : most_uneven) &&
         strokes.length >= (several ? strokes_of_several : strokes_of_one) * extent.height;
}

/// Parts of the heap with nothing of it beside them, from top to bottom, or from left to right: words that
/// stand in lines of their own.
std::vector<std::vector<int>> lines_in(std::vector<int> heap, const std::vector<Element>& elements,
                                       bool upright) {
  const auto extent = [&](int member) {
    const PixelRect& box = elements[static_cast<std::size_t>(member)].box_px;
    return upright ? std::pair(box.x, box.right()) : std::pair(box.y, box.bottom());
  };
  std::ranges::sort(heap, {}, extent);
  std::vector<std::vector<int>> lines;
  double reached = -INFINITY;
  for (const int member : heap) {
    const auto [begin, end] = extent(member);
    if (begin >= reached) lines.emplace_back();
    lines.back().push_back(member);
    reached = std::max(reached, end);
  }
  return lines;
}

/// The heap itself, or the lines of it, whatever reads as words.
std::vector<std::vector<int>> words_in(const std::vector<int>& heap, const std::vector<Element>& elements,
                                       Glyphs& glyphs) {
  if (reads_as_word(heap, glyphs)) return {heap};
  for (const bool upright : {false, true}) {
    std::vector<std::vector<int>> lines = lines_in(heap, elements, upright);
    if (lines.size() > 1 &&
        std::ranges::all_of(lines, [&](const std::vector<int>& line) { return reads_as_word(line, glyphs); }))
      return lines;
  }
  return {};
}

}  // namespace

std::vector<std::vector<int>> written_words(const std::vector<int>& members,
                                            const std::vector<Element>& elements, Glyphs& glyphs) {
  // What runs off the canvas is an ornament, or a pattern.
  const auto runs_off = [&](int member) { return elements[static_cast<std::size_t>(member)].touches_canvas; };
  std::vector<std::vector<int>> words;
  for (const std::vector<int>& heap : Neighbourhood(members, elements, glyphs).clumps(heap_reach))
    if (std::ranges::none_of(heap, runs_off))
      std::ranges::move(words_in(heap, elements, glyphs), std::back_inserter(words));
  return words;
}

}  // namespace frisket
