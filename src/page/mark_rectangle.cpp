#include "page/mark_rectangle.hpp"

#include <algorithm>
#include <cmath>

namespace frisket {
namespace {

constexpr double widest_offset_mm = 16.0;  // between a mark and its corner (common practice: 2 to 6)
constexpr double overlap_mm = 0.2;         // of a mark with the trim: marks that meet in the corner
constexpr double guess_off_mm = 0.5;       // of a mark from a line that is only guessed
constexpr double line_off_mm = 0.1;        // of a mark from the line fitted to all
constexpr int rounds = 4;

struct Place {
  bool upright;  ///< the mark's own direction
  bool far;      ///< on the right or the lower side
  bool end;      ///< at the lower or right end of that side
};

constexpr std::array<Place, 8> places{{{true, false, false},
                                       {true, false, true},
                                       {true, true, false},
                                       {true, true, true},
                                       {false, false, false},
                                       {false, false, true},
                                       {false, true, false},
                                       {false, true, true}}};

double line_at(const TrimLines& lines, const Place& place, double along) {
  if (place.upright) return (place.far ? lines.right : lines.left) - lines.slope * along;
  return (place.far ? lines.bottom : lines.top) + lines.slope * along;
}

/// Where along its line the corner lies that a mark at `place` points at.
double corner_along(const TrimLines& lines, const Place& place) {
  const bool right = place.upright ? place.far : place.end, low = place.upright ? place.end : place.far;
  const cv::Point2d at = lines.corner(right ? lines.right : lines.left, low ? lines.bottom : lines.top);
  return place.upright ? at.y : at.x;
}

/// How far outside of its corner the mark ends; negative where it reaches in.
double offset(const Stroke& stroke, const Place& place, double corner) {
  return place.end ? stroke.from - corner : corner - stroke.to;
}

/// The stroke at a place that lies nearest to its line.
const Stroke* mark_at(const MarkStrokes& strokes, const TrimLines& lines, const Place& place,
                      double most_off) {
  const double corner = corner_along(lines, place);
  const Stroke* best = nullptr;
  for (const Stroke& stroke : place.upright ? strokes.upright : strokes.level) {
    const double away = offset(stroke, place, corner) / strokes.px_per_mm;
    if (away < -overlap_mm || away > widest_offset_mm) continue;
    const double off = std::abs(stroke.place_at(stroke.middle()) - line_at(lines, place, stroke.middle()));
    if (off < most_off) best = &stroke, most_off = off;
  }
  return best;
}

LineSums sums_of(const MarkRectangle& found, std::size_t first) {
  LineSums sums;
  for (const std::size_t i : {first, first + 1})
    if (found.marks[i] != nullptr) sums.add(found.marks[i]->sums);
  return sums;
}

/// One slope and four lines through all marks, by least squares.
TrimLines fitted(const MarkRectangle& found) {
  const std::array<LineSums, 4> side{sums_of(found, left_top), sums_of(found, right_top),
                                     sums_of(found, top_left), sums_of(found, bottom_left)};
  double slant = 0, spread = 0;
  for (std::size_t i = 0; i < side.size(); ++i)
    if (side[i].count > 0) slant += i < 2 ? -side[i].slant() : side[i].slant(), spread += side[i].spread();
  TrimLines lines;
  lines.slope = spread > 0 ? slant / spread : found.lines.slope;
  const auto upright = [&](const LineSums& s) { return s.mean_across() + lines.slope * s.mean_along(); };
  const auto level = [&](const LineSums& s) { return s.mean_across() - lines.slope * s.mean_along(); };
  if (side[0].count > 0) lines.left = upright(side[0]);
  if (side[1].count > 0) lines.right = upright(side[1]);
  if (side[2].count > 0) lines.top = level(side[2]);
  if (side[3].count > 0) lines.bottom = level(side[3]);
  const double across = found.lines.right - found.lines.left, down = found.lines.bottom - found.lines.top;
  if (side[0].count == 0) lines.left = lines.right - across;
  if (side[1].count == 0) lines.right = lines.left + across;
  if (side[2].count == 0) lines.top = lines.bottom - down;
  if (side[3].count == 0) lines.bottom = lines.top + down;
  return lines;
}

void count_marks(MarkRectangle& found) {
  const auto has = [&](MarkPlace place) { return found.marks[place] != nullptr; };
  found.count =
      static_cast<int>(std::ranges::count_if(found.marks, [](const Stroke* m) { return m != nullptr; }));
  found.corners = (has(left_top) && has(top_left)) + (has(left_bottom) && has(bottom_left)) +
                  (has(right_top) && has(top_right)) + (has(right_bottom) && has(bottom_right));
  for (std::size_t i = 0; i < 4; ++i)
    found.sides[i] = found.marks[2 * i] != nullptr || found.marks[2 * i + 1] != nullptr;
}

/// At least one upright and one level line are marked: enough to fit.
bool can_be_fitted(const MarkRectangle& found) {
  return (found.sides[0] || found.sides[1]) && (found.sides[2] || found.sides[3]);
}

}  // namespace

double TrimLines::width() const { return (right - left) / std::hypot(1.0, slope); }
double TrimLines::height() const { return (bottom - top) / std::hypot(1.0, slope); }

cv::Point2d TrimLines::corner(double x, double y) const {
  const double px = (x - slope * y) / (1.0 + slope * slope);
  return {px, y + slope * px};
}

cv::Point2d TrimLines::middle() const { return corner((left + right) / 2, (top + bottom) / 2); }

MarkRectangle fit_marks(const MarkStrokes& strokes, const TrimLines& guess) {
  MarkRectangle found;
  found.lines = guess;
  for (int round = 0; round < rounds; ++round) {
    const double most_off = (round == 0   ? guess_off_mm
                             : round == 1 ? 2 * line_off_mm
                                          : line_off_mm) *
                                strokes.px_per_mm +
                            0.5;
    for (std::size_t i = 0; i < places.size(); ++i)
      found.marks[i] = mark_at(strokes, found.lines, places[i], most_off);
    count_marks(found);
    if (!can_be_fitted(found)) return {};
    found.lines = fitted(found);
  }
  return found;
}

std::vector<MarkCorner> find_corners(const MarkStrokes& strokes, bool right, bool low) {
  const Place upright{true, right, low}, level{false, low, right};
  std::vector<MarkCorner> corners;
  for (const Stroke& v : strokes.upright)
    for (const Stroke& h : strokes.level) {
      // The corner lies near where each line, taken on a little, meets the other one.
      const double x = v.place_at(low ? v.from : v.to), y = h.place_at(right ? h.from : h.to);
      const double down = offset(v, upright, y) / strokes.px_per_mm,
                   across = offset(h, level, x) / strokes.px_per_mm;
      if (std::min(down, across) < -overlap_mm || std::max(down, across) > widest_offset_mm) continue;
      corners.push_back({{x, y}});
    }
  return corners;
}

}  // namespace frisket
