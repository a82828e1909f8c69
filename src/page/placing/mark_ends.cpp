#include "page/placing/mark_ends.hpp"

#include <algorithm>
#include <cmath>

#include "page/placing/line_ink.hpp"

namespace frisket {
namespace {

constexpr double meeting_mm = 0.6;    // a mark this near to its corner may touch it
constexpr double inside_mm = 3.0;     // looked at where it does
constexpr double continued = 0.4;     // share of a way that is inked where a line goes on
constexpr double same_line_px = 1.5;  // across
constexpr double same_end_px = 2.5;   // along
constexpr double like_length = 0.6;   // of the longer of two pieces
constexpr double like_width_px = 1.05;
constexpr double widest_bleed_mm = 7.0;  // common practice: 2 to 5

/// A mark, looked at from its corner. Along the line, `out` is the way the mark points.
struct View {
  const cv::Mat& rgb;
  const Stroke& mark;
  bool upright;
  double line, slope;  ///< of the rectangle's side that the mark lies in
  double corner, out;  ///< along; out is 1 or -1
  int widest;

  /// From the corner to the end of the mark that is nearer to it.
  double offset() const { return out > 0 ? mark.from - corner : corner - mark.to; }

  /// From `near` to `far` outside of the corner; inside where negative.
  LineStretch stretch(double near, double far) const {
    const double a = corner + out * near, b = corner + out * far;
    return {upright, line, slope, std::min(a, b), std::max(a, b)};
  }

  cv::Vec3b ink() const {
    return darkest_colour(rgb, {upright, mark.place_at(0), mark.sums.slope(), mark.from, mark.to});
  }
};

View view_from_corner(const cv::Mat& rgb, const TrimLines& lines, const Stroke& mark, MarkPlace place,
                      int widest) {
  const bool upright = place < top_left, far = place / 2 % 2 == 1, end = place % 2 == 1;
  const bool right = upright ? far : end, low = upright ? end : far;
  const cv::Point2d corner = lines.corner(right ? lines.right : lines.left, low ? lines.bottom : lines.top);
  const double line = upright ? (far ? lines.right : lines.left) : (far ? lines.bottom : lines.top);
  return {rgb,
          mark,
          upright,
          line,
          upright ? -lines.slope : lines.slope,
          upright ? corner.y : corner.x,
          end ? 1.0 : -1.0,
          widest};
}

/// The grain of a picture looks like short lines; but it does so beside a line as well.
template <class Share>
bool stands_out(const LineStretch& way, int widest, Share share) {
  const double here = share(way), aside = 2.0 * widest;
  return here > continued && here > 2 * std::min(share(way.beside(-aside)), share(way.beside(aside)));
}

bool has_a_line(const View& view, const LineStretch& way) {
  return stands_out(way, view.widest,
                    [&](const LineStretch& line) { return line_share(view.rgb, line, view.widest); });
}

bool has_its_ink(const View& view, const LineStretch& way) {
  return stands_out(way, view.widest, [&, ink = view.ink()](const LineStretch& line) {
    return ink_share(view.rgb, line, view.widest, ink);
  });
}

bool goes_on(const View& view, double px_per_mm) {
  const bool meets = view.offset() <= meeting_mm * px_per_mm;
  const LineStretch way =
      meets ? view.stretch(-2.0, -inside_mm * px_per_mm) : view.stretch(1.0, view.offset() - 1.0);
  return has_a_line(view, way) || has_its_ink(view, way);
}

bool has_other_arm(const View& view, double px_per_mm) {
  const double gap = view.offset();
  if (gap <= meeting_mm * px_per_mm) return false;
  return has_its_ink(view, view.stretch(-gap - 1.0, -gap - view.mark.length())) &&
         !has_its_ink(view, view.stretch(-1.0, 1.0 - gap));
}

bool is_like(const Stroke& a, const Stroke& b) {
  return std::min(a.length(), b.length()) >= like_length * std::max(a.length(), b.length()) &&
         std::abs(a.width - b.width) <= like_width_px;
}

bool is_a_dash(const Stroke& mark, const Stroke& other) {
  const double gap = std::max(other.from - mark.to, mark.from - other.to);
  return gap >= 0 && gap <= mark.length() && is_like(mark, other) &&
         std::abs(mark.place_at(other.middle()) - other.place_at(other.middle())) <= same_line_px;
}

/// How far beside the mark strokes like it stand, px; outside of the rectangle where positive.
std::vector<double> divisions_beside(const View& view, const std::vector<Stroke>& alike, bool far) {
  std::vector<double> found;
  for (const Stroke& other : alike) {
    const double beside = other.place_at(other.middle()) - view.mark.place_at(view.mark.middle());
    const double shift = -view.slope * beside;
    if (is_like(view.mark, other) && std::abs(other.from - view.mark.from - shift) <= same_end_px &&
        std::abs(other.to - view.mark.to - shift) <= same_end_px)
      found.push_back(far ? beside : -beside);
  }
  return found;
}

/// Is the mark a division of a scale? Then the next one stands farther out than marks of the bleed do, or as
/// far outside as another one inside.
bool is_on_a_scale(const View& view, const std::vector<Stroke>& alike, bool far, double px_per_mm) {
  const std::vector<double> beside = divisions_beside(view, alike, far);
  return std::ranges::any_of(beside, [&](double out) {
    if (out > widest_bleed_mm * px_per_mm) return true;
    return out > same_end_px &&
           std::ranges::any_of(beside, [&](double in) { return std::abs(in + out) <= same_end_px; });
  });
}

}  // namespace

bool is_part_of_more(const cv::Mat& rgb, const MarkStrokes& all, const TrimLines& lines, const Stroke& mark,
                     MarkPlace place, int widest) {
  const View view = view_from_corner(rgb, lines, mark, place, widest);
  const std::vector<Stroke>& alike = view.upright ? all.upright : all.level;
  const auto is_dash = [&](const Stroke& other) { return is_a_dash(mark, other); };
  return std::ranges::any_of(alike, is_dash) ||
         is_on_a_scale(view, alike, place / 2 % 2 == 1, all.px_per_mm) || goes_on(view, all.px_per_mm) ||
         has_other_arm(view, all.px_per_mm);
}

}  // namespace frisket
