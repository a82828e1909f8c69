#include "page/pictures/picture_outline.hpp"

#include <algorithm>
#include <array>

#include "frisket/geometry.hpp"

namespace frisket {
namespace {

/// The sides in the order in which they are moved.
constexpr std::array sides{Edge::left, Edge::top, Edge::right, Edge::bottom};

constexpr double most_rough = 0.12;  // of a line of ground; of one through a picture nearly always more
constexpr double flat_share = 0.97;  // of a line that is one colour, ground however narrow it is
constexpr double least_step = 3.0;   // grey levels along an edge: above grain
constexpr int lines_first = 4, lines_at_a_time = 32;  // mostly a side has been found already

bool is_low(Edge side) { return side == Edge::left || side == Edge::top; }

int end_of(const cv::Rect& box, Edge side) {
  switch (side) {
    case Edge::left:
      return box.x;
    case Edge::top:
      return box.y;
    case Edge::right:
      return box.br().x;
    default:
      return box.br().y;
  }
}

cv::Rect with_end(const cv::Rect& box, Edge side, int end) {
  const int left = side == Edge::left ? end : box.x, top = side == Edge::top ? end : box.y;
  const int right = side == Edge::right ? end : box.br().x, bottom = side == Edge::bottom ? end : box.br().y;
  return {left, top, right - left, bottom - top};
}

/// The lines of `box` beyond `side` from `end` on, `count` of them or up to the canvas edge.
cv::Rect beyond(const cv::Rect& box, Edge side, int count, const cv::Size& canvas) {
  const int end = end_of(box, side), limit = is_vertical(side) ? canvas.width : canvas.height;
  const int from = is_low(side) ? std::max(0, end - count) : end;
  const int to = is_low(side) ? end : std::min(limit, end + count);
  return is_vertical(side) ? cv::Rect(from, box.y, to - from, box.height)
                           : cv::Rect(box.x, from, box.width, to - from);
}

/// True where nearly all of a line has the colour of its middle. A few pixels are asked first: most lines of
/// a picture differ there.
bool is_flat(const cv::Mat1b& line) {
  const bool lies = line.rows == 1;
  const int length = lies ? line.cols : line.rows;
  const auto at = [&](int i) { return lies ? line(0, i) : line(i, 0); };
  const std::uint8_t colour = at(length / 2);
  int alike = 0;
  for (const int eighth : {1, 3, 5, 7}) alike += at(length * eighth / 8) == colour;
  return alike >= 3 && cv::countNonZero(line == colour) >= flat_share * length;
}

/// The box with one side moved outwards to the first line of ground, or to the canvas edge.
cv::Rect spread(SmoothGround& ground, const cv::Mat1b& grey, cv::Rect box, Edge side) {
  for (int ahead = lines_first;; ahead = lines_at_a_time) {
    const cv::Rect lines = beyond(box, side, ahead, grey.size());
    if (lines.empty()) return box;
    const std::vector<double> rough = ground.rough_shares(lines, !is_vertical(side));
    const int count = static_cast<int>(rough.size());
    for (int k = 0; k < count; ++k) {
      const int i = is_low(side) ? count - 1 - k : k;  // from the inside outwards
      const cv::Mat1b line = grey(is_vertical(side) ? cv::Rect(lines.x + i, lines.y, 1, lines.height)
                                                    : cv::Rect(lines.x, lines.y + i, lines.width, 1));
      if (rough[static_cast<std::size_t>(i)] < most_rough || is_flat(line))
        return with_end(box, side, end_of(box, side) + (is_low(side) ? -k : k));
    }
    box = with_end(box, side, end_of(box, side) + (is_low(side) ? -count : count));
  }
}

/// The side drawn back to the edge that made the ground's first pixels rough.
cv::Rect at_edge(const cv::Mat1b& grey, const cv::Rect& box, Edge side, int reach) {
  const int end = end_of(box, side), length = is_vertical(side) ? box.height : box.width;
  const int canvas = is_vertical(side) ? grey.cols : grey.rows;
  if (end == 0 || end == canvas) return box;
  const int inset = length / 8, start = is_vertical(side) ? box.y : box.x;  // corners may be rounded
  const int first = std::max(1, is_low(side) ? end - 2 : end - reach - 3);
  const int last = std::min(canvas, is_low(side) ? end + reach + 4 : end + 3);
  std::vector<double> profile(static_cast<std::size_t>(canvas), 0.0);
  add_to_profile({grey, !is_vertical(side)}, start + inset, start + length - inset, {first, last}, profile);
  const auto best = std::max_element(profile.begin() + first, profile.begin() + last);
  return *best < least_step ? box : with_end(box, side, static_cast<int>(best - profile.begin()));
}

}  // namespace

cv::Rect PictureOutline::round(const cv::Rect& core) const {
  cv::Rect box = core, before;
  constexpr int most_rounds = 8;
  for (int i = 0; i < most_rounds && box != before; ++i) {  // each sees more of every side's length
    before = box;
    for (const Edge side : sides) box = spread(ground_, grey_, box, side);
  }
  for (const Edge side : sides) box = at_edge(grey_, box, side, ground_.reach());
  return box;
}

}  // namespace frisket
