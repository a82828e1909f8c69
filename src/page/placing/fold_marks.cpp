#include "page/placing/fold_marks.hpp"

#include <algorithm>
#include <cmath>

namespace frisket {
namespace {

constexpr double widest_offset_mm = 16.0;  // between a mark and the trim, as for crop marks
constexpr double pair_off_mm = 0.25;       // of two marks from one line
constexpr double corner_mm = 6.0;          // nearer to a corner stand marks of trim and bleed

/// A stroke outside one side of the trim, and how far along that side.
struct Beside {
  double at;  ///< px from the left or top
  double width;
};

/// Strokes that point at the side that lies at `side` across the page. All in coordinates in which the trim
/// is upright: `slope` turns a stroke's place into them.
std::vector<Beside> strokes_beside(const std::vector<Stroke>& strokes, double slope, double near, double far,
                                   bool beyond, double side, double px_per_mm) {
  std::vector<Beside> found;
  for (const Stroke& stroke : strokes) {
    const double place = stroke.place_at(stroke.middle()) - slope * stroke.middle();
    if (place < near + corner_mm * px_per_mm || place > far - corner_mm * px_per_mm) continue;
    const double level = side - slope * place;  // where the side lies, seen along the stroke
    const double offset = beyond ? stroke.from - level : level - stroke.to;
    if (offset < 0 || offset > widest_offset_mm * px_per_mm) continue;
    found.push_back({place - near, stroke.width});
  }
  return found;
}

std::vector<Length> pairs(const std::vector<Beside>& first, const std::vector<Beside>& second, double longer,
                          double px_per_mm) {
  std::vector<Length> found;
  for (const Beside& a : first) {
    const auto b =
        std::ranges::min_element(second, {}, [&](const Beside& o) { return std::abs(o.at - a.at); });
    if (b == second.end() || std::abs(b->at - a.at) > pair_off_mm * px_per_mm) continue;
    const Length at = Length::from_mm((a.at + b->at) / 2 / longer / px_per_mm);
    if (std::ranges::none_of(found, [&](Length f) { return abs(f - at) < Length::from_mm(1.0); }))
      found.push_back(at);
  }
  std::ranges::sort(found);
  return found;
}

}  // namespace

FoldMarks find_fold_marks(const MarkStrokes& strokes, const TrimLines& lines) {
  const double longer = std::hypot(1.0, lines.slope), scale = strokes.px_per_mm;
  const auto upright = [&](bool beyond) {
    return strokes_beside(strokes.upright, -lines.slope, lines.left, lines.right, beyond,
                          beyond ? lines.bottom : lines.top, scale);
  };
  const auto level = [&](bool beyond) {
    return strokes_beside(strokes.level, lines.slope, lines.top, lines.bottom, beyond,
                          beyond ? lines.right : lines.left, scale);
  };
  return {pairs(upright(false), upright(true), longer, scale),
          pairs(level(false), level(true), longer, scale)};
}

}  // namespace frisket
