#include "page/placing/mark_rectangle.hpp"

#include <algorithm>
#include <cmath>

namespace frisket {
namespace {

constexpr double widest_offset_mm = 16.0;  // between a mark and its corner (common practice: 2 to 6)
constexpr double overlap_mm = 0.2;         // of a mark with the trim: marks that meet in the corner
constexpr double guess_off_mm = 0.5;       // of a mark from a line that is only guessed
constexpr double line_off_mm = 0.1;        // of a mark from the line fitted to all
constexpr int rounds = 4;

// Marks of one sheet are drawn alike; strokes that fell into line by chance are not. Pictures and slug text
// cover some of them in part.
constexpr double shortest_part = 0.35, longest_part = 2.4;  // of the length that most have
// Between a mark and most others; renderers that snap lines to whole pixels draw one of 1.3 px as 1 or 2.
constexpr double thickness_part = 0.1, thickness_px = 1.05;

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

template <class Value>
double middle_value(const MarkRectangle& found, Value value) {
  std::vector<double> values;
  for (const Stroke* mark : found.marks)
    if (mark != nullptr) values.push_back(value(*mark));
  if (values.empty()) return 0;
  std::ranges::sort(values);
  return values[values.size() / 2];
}

void leave_out_unlike(MarkRectangle& found) {
  const double length = middle_value(found, [](const Stroke& mark) { return mark.length(); });
  const double width = middle_value(found, [](const Stroke& mark) { return mark.width; });
  for (const Stroke*& mark : found.marks) {
    if (mark == nullptr) continue;
    const bool is_alike = mark->length() >= shortest_part * length &&
                          mark->length() <= longest_part * length &&
                          std::abs(mark->width - width) <= thickness_part * width + thickness_px;
    if (!is_alike) mark = nullptr;
  }
}

/// Points of lines that all have one slope; those of the upright ones turned so that it has one sign.
class CommonSlope {
 public:
  void add(const LineSums& sums, bool upright) {
    if (sums.count == 0) return;
    slant_ += upright ? -sums.slant() : sums.slant();
    spread_ += sums.spread();
  }
  double value_or(double other) const { return spread_ > 0 ? slant_ / spread_ : other; }

 private:
  double slant_ = 0, spread_ = 0;
};

bool has_marks_at_both_ends(const MarkRectangle& found) {
  for (std::size_t i = 0; i < found.marks.size(); i += 2)
    if (found.marks[i] != nullptr && found.marks[i + 1] != nullptr) return true;
  return false;
}

using SideSums = std::array<LineSums, 4>;  // left, right, top, bottom

double slope_of(const SideSums& side, const MarkRectangle& found, const TrimLines& guess) {
  CommonSlope slope;
  if (has_marks_at_both_ends(found)) {
    for (std::size_t i = 0; i < side.size(); ++i) slope.add(side[i], i < 2);
    return slope.value_or(found.lines.slope);
  }
  // Opposite sides, laid on one another by the size that is known, are one long line.
  LineSums upright = side[0], level = side[2];
  upright.add(side[1].shifted(guess.left - guess.right));
  level.add(side[3].shifted(guess.top - guess.bottom));
  slope.add(upright, true);
  slope.add(level, false);
  return slope.value_or(found.lines.slope);
}

/// One slope and four lines through all marks, by least squares.
TrimLines fitted(const MarkRectangle& found, const TrimLines& guess) {
  const SideSums side{sums_of(found, left_top), sums_of(found, right_top), sums_of(found, top_left),
                      sums_of(found, bottom_left)};
  TrimLines lines;
  lines.slope = slope_of(side, found, guess);
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

double MarkRectangle::ends_off() const {
  CommonSlope own;
  double length = 0;
  for (std::size_t i = 0; i < marks.size(); ++i)
    if (marks[i] != nullptr) own.add(marks[i]->sums, i < top_left), length += marks[i]->length();
  return count > 0 ? std::abs(own.value_or(lines.slope) - lines.slope) * length / count : 0.0;
}

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
    leave_out_unlike(found);
    count_marks(found);
    if (!can_be_fitted(found)) return {};
    found.lines = fitted(found, guess);
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
