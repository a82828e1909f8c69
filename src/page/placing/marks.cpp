#include "page/placing/marks.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "page/placing/fold_marks.hpp"
#include "page/placing/line_ink.hpp"
#include "page/placing/mark_ends.hpp"
#include "page/placing/mark_rectangle.hpp"
#include "page/placing/placing.hpp"

namespace frisket {
namespace {

constexpr double enough_dpi = 300.0;  // finer canvases are shrunk: coverage survives the mean
constexpr double widest_mm = 0.75;    // of a mark: 0.5 mm, with room for pixels and slant
constexpr double shortest_mm = 2.4;   // of a mark (common practice: 3 to 10)
constexpr double longest_dash_mm = 3.5;
constexpr double widest_gap_mm = 1.6;
constexpr double clear_mm = 0.9;           // what keeps a mark apart from letters
constexpr double most_slope = 0.0285;      // 1.6 degrees, and a little for the offset of the corners
constexpr double size_off_mm = 1.0;        // of a guess from the job's size
constexpr std::size_t most_corners = 150;  // of each kind; a page full of strokes has no marks to be told
constexpr double least_share = 0.4;        // of the canvas that a trim of unknown size takes on each axis
constexpr double crossed_part = 0.15;      // of a mark's length at each end, where another line may touch it
constexpr double most_ends_off_px = 0.8;   // of a mark that is turned otherwise than its rectangle
constexpr double same_line_px = 1.5;
constexpr double rim_step = 48;  // levels between paper and a picture or a field
constexpr double inside_mm = 3.0;

/// The canvas at about 300 dpi, and how many of its pixels one of those is.
struct Reduced {
  cv::Mat rgb;
  double factor;
};

Reduced reduced(const cv::Mat& canvas, double dpi) {
  const int factor = std::max(1, static_cast<int>(dpi / enough_dpi + 0.01));
  if (factor == 1) return {canvas, 1.0};
  cv::Mat small;
  const cv::Rect whole(0, 0, canvas.cols / factor * factor, canvas.rows / factor * factor);
  if (whole.empty()) return {canvas, 1.0};
  cv::resize(canvas(whole), small, {whole.width / factor, whole.height / factor}, 0, 0, cv::INTER_AREA);
  return {small, static_cast<double>(factor)};
}

StrokeRule rule_for(double px_per_mm) {
  return {std::max(3, static_cast<int>(std::ceil(widest_mm * px_per_mm))), shortest_mm * px_per_mm,
          longest_dash_mm * px_per_mm, widest_gap_mm * px_per_mm, clear_mm * px_per_mm};
}

/// Do the grounds on the two sides of the line `other` differ where it crosses `stroke`? Then it is the rim
/// of a picture or a field, and no line.
bool is_rim(const cv::Mat& rgb, bool upright, const Stroke& other, const Stroke& stroke, int widest) {
  const double at = other.place_at(stroke.place_at(stroke.middle())), away = widest / 2.0 + 2.0;
  const double place = stroke.place_at(at);
  return std::ranges::all_of(std::array{-away, away}, [&](double beside) {
    return colour_step(pixel_along(rgb, upright, at - away, place + beside),
                       pixel_along(rgb, upright, at + away, place + beside)) >= rim_step;
  });
}

/// A line across the middle of the stroke: it is part of a cross, a table or a drawing.
bool is_crossed(const cv::Mat& rgb, bool upright, const Stroke& stroke, const std::vector<Stroke>& others,
                int widest) {
  const double margin = crossed_part * stroke.length();
  return std::ranges::any_of(others, [&](const Stroke& other) {
    const double at = other.place_at(other.middle()), place = stroke.place_at(at);
    return at > stroke.from + margin && at < stroke.to - margin && place > other.from && place < other.to &&
           !is_rim(rgb, upright, other, stroke, widest);
  });
}

/// Does the line go on in another stroke, past a line that crosses it? So do the lines of tables, frames and
/// crosses.
bool is_continued(const Stroke& stroke, const std::vector<Stroke>& alike, double widest_gap) {
  return std::ranges::any_of(alike, [&](const Stroke& other) {
    const double gap = std::max(other.from - stroke.to, stroke.from - other.to);
    return gap >= 0 && gap <= widest_gap &&
           std::abs(stroke.place_at(other.middle()) - other.place_at(other.middle())) <= same_line_px;
  });
}

class MarkFinder {
 public:
  MarkFinder(const cv::Mat& rgb, double px_per_mm, const Job& job)
      : rgb_(rgb),
        px_per_mm_(px_per_mm),
        width_(job.trim.width.mm() * px_per_mm),
        height_(job.trim.height.mm() * px_per_mm),
        tolerance_(std::max(0.5 * px_per_mm, 1.0)),
        rule_(rule_for(px_per_mm)) {
    std::vector<Stroke> upright = find_strokes(rgb, true, rule_), level = find_strokes(rgb, false, rule_);
    const auto uncrossed = [&](bool is_upright, const std::vector<Stroke>& strokes,
                               const std::vector<Stroke>& others) {
      std::vector<Stroke> kept;
      std::ranges::copy_if(strokes, std::back_inserter(kept), [&](const Stroke& stroke) {
        return !is_crossed(rgb, is_upright, stroke, others, rule_.widest) &&
               !is_continued(stroke, strokes, rule_.widest);
      });
      return kept;
    };
    strokes_ = {uncrossed(true, upright, level), uncrossed(false, level, upright), px_per_mm};
    all_ = {std::move(upright), std::move(level), px_per_mm};
  }

  const MarkStrokes& strokes() const { return strokes_; }

  std::optional<MarkRectangle> find() {
    const auto corners = [&](bool right, bool low) {
      std::vector<MarkCorner> found = find_corners(strokes_, right, low);
      if (found.size() > most_corners) found.clear();
      return found;
    };
    const auto top_left = corners(false, false), top_right = corners(true, false),
               low_left = corners(false, true), low_right = corners(true, true);
    for (const MarkCorner& a : top_left)
      for (const MarkCorner& b : low_right) try_diagonal(a, b, true);
    for (const MarkCorner& a : top_right)
      for (const MarkCorner& b : low_left) try_diagonal(a, b, false);
    for (const MarkCorner& a : top_left)
      for (const MarkCorner& b : top_right) try_level_side(a, b, true, low_left, low_right);
    for (const MarkCorner& a : low_left)
      for (const MarkCorner& b : low_right) try_level_side(a, b, false, top_left, top_right);
    for (const MarkCorner& a : top_left)
      for (const MarkCorner& b : low_left) try_upright_side(a, b, true);
    for (const MarkCorner& a : top_right)
      for (const MarkCorner& b : low_right) try_upright_side(a, b, false);
    return best_;
  }

  bool has_jobs_size(const MarkRectangle& r) const {
    return std::abs(r.lines.width() - width_) <= tolerance_ &&
           std::abs(r.lines.height() - height_) <= tolerance_;
  }

 private:
  /// Two opposite corners: the job's size says the skew.
  void try_diagonal(const MarkCorner& a, const MarkCorner& b, bool falling) {
    const cv::Point2d d = b.at - a.at;
    const double across = falling ? d.x : -d.x;
    if (across <= 0 || d.y <= 0) return;
    const double turn = std::atan2(d.y, across) - std::atan2(height_, width_);
    const double off = std::abs(std::hypot(across, d.y) - std::hypot(width_, height_));
    const double slope = falling ? std::tan(turn) : -std::tan(turn);
    if (off > size_off_mm * px_per_mm_ || std::abs(slope) > most_slope) return;
    consider(falling ? lines_through(a.at, slope, width_, height_)
                     : lines_through(b.at - cv::Point2d(-slope * height_, height_), slope, width_, height_));
  }

  /// Two corners side by side along the top (or the bottom); a third one, or the job, says the height.
  void try_level_side(const MarkCorner& a, const MarkCorner& b, bool top,
                      const std::vector<MarkCorner>& across_left,
                      const std::vector<MarkCorner>& across_right) {
    const cv::Point2d d = b.at - a.at;
    if (d.x <= inside_mm * px_per_mm_ || std::abs(d.y) > most_slope * d.x) return;
    const double slope = d.y / d.x, width = std::hypot(d.x, d.y);
    std::vector<double> heights;
    if (std::abs(width - width_) <= size_off_mm * px_per_mm_) heights.push_back(height_);
    for (const auto& [from, corners] : {std::pair(a.at, &across_left), std::pair(b.at, &across_right)})
      for (const MarkCorner& c : *corners) {
        const double height = top ? c.at.y - from.y : from.y - c.at.y;
        const double x = from.x + (top ? -slope : slope) * height;
        if (height >= least_share * rgb_.rows && std::abs(c.at.x - x) <= size_off_mm * px_per_mm_)
          heights.push_back(height);
      }
    for (const double height : heights)
      consider(lines_through(top ? a.at : a.at - cv::Point2d(-slope * height, height), slope, width, height));
  }

  void try_upright_side(const MarkCorner& a, const MarkCorner& b, bool left) {
    const cv::Point2d d = b.at - a.at;
    if (d.y <= inside_mm * px_per_mm_ || std::abs(d.x) > most_slope * d.y) return;
    if (std::abs(std::hypot(d.x, d.y) - height_) > size_off_mm * px_per_mm_) return;
    const double slope = -d.x / d.y;
    consider(lines_through(left ? a.at : a.at - cv::Point2d(width_, slope * width_), slope, width_,
                           std::hypot(d.x, d.y)));
  }

  static TrimLines lines_through(cv::Point2d top_left, double slope, double width, double height) {
    TrimLines lines;
    const double longer = std::hypot(1.0, slope);
    lines.slope = slope;
    lines.left = top_left.x + slope * top_left.y;
    lines.top = top_left.y - slope * top_left.x;
    lines.right = lines.left + width * longer;
    lines.bottom = lines.top + height * longer;
    return lines;
  }

  void consider(const TrimLines& guess) {
    const MarkRectangle r = fit_marks(strokes_, guess);
    if (r.corners < 2 || std::abs(r.lines.slope) > most_slope) return;
    const bool fits = has_jobs_size(r);
    if (r.ends_off() > most_ends_off_px) return;
    if (!fits && (r.corners < 3 || !is_large(r) || !are_equally_long(r))) return;
    if (best_ && !is_better(r, *best_)) return;
    if (are_parts_of_more(r)) return;
    best_ = r;
  }

  static bool are_equally_long(const MarkRectangle& r) {
    double least = 1e9, most = 0;
    for (const Stroke* mark : r.marks)
      if (mark != nullptr) least = std::min(least, mark->length()), most = std::max(most, mark->length());
    return most <= 1.4 * least + 2.0;
  }

  bool is_large(const MarkRectangle& r) const {
    return r.lines.width() >= least_share * rgb_.cols && r.lines.height() >= least_share * rgb_.rows;
  }

  /// Of two rectangles the one of the job's size, then the one with more marks, then the inner one: marks of
  /// the bleed lie outside those of the trim.
  bool is_better(const MarkRectangle& a, const MarkRectangle& b) const {
    const auto marks = [&](const MarkRectangle& r) {
      const bool whole = std::ranges::all_of(r.sides, [](bool marked) { return marked; });
      return r.count + (whole && has_jobs_size(r) ? 2.5 : 0.0);
    };
    if (marks(a) != marks(b)) return marks(a) > marks(b);
    return a.lines.width() * a.lines.height() < b.lines.width() * b.lines.height() - 1.0;
  }

  /// Marks are no parts of anything; slug text and pictures may make one or the other look so.
  bool are_parts_of_more(const MarkRectangle& r) const {
    int going_on = 0;
    for (std::size_t i = 0; i < r.marks.size(); ++i)
      if (r.marks[i] != nullptr)
        going_on +=
            is_part_of_more(rgb_, all_, r.lines, *r.marks[i], static_cast<MarkPlace>(i), rule_.widest);
    return 2 * going_on >= r.count;
  }

  const cv::Mat& rgb_;
  double px_per_mm_;
  double width_, height_;  ///< of the job's trim, px
  double tolerance_;       ///< px
  StrokeRule rule_;
  MarkStrokes strokes_, all_;  ///< those that may be marks; crossed and broken ones too
  std::optional<MarkRectangle> best_;
};

std::optional<TrimMarks> dark_marks(const Reduced& canvas, double dpi, const Job& job) {
  const double px_per_mm = dpi / canvas.factor / mm_per_inch;
  MarkFinder finder(canvas.rgb, px_per_mm, job);
  const std::optional<MarkRectangle> found = finder.find();
  if (!found) return std::nullopt;
  const TrimLines& lines = found->lines;
  TrimMarks marks;
  const cv::Point2d middle = lines.middle() * canvas.factor;
  const double width = lines.width() * canvas.factor, height = lines.height() * canvas.factor;
  marks.trim_px = {middle.x - width / 2, middle.y - height / 2, width, height};
  marks.size = {Length::from_mm(lines.width() / px_per_mm), Length::from_mm(lines.height() / px_per_mm)};
  marks.skew = std::atan(lines.slope) * 180.0 / std::numbers::pi;
  marks.corners = found->corners;
  marks.strokes = found->count;
  marks.whole = std::ranges::all_of(found->sides, [](bool marked) { return marked; });
  const FoldMarks folds = find_fold_marks(finder.strokes(), lines);
  marks.folds = folds.x;
  marks.folds_y = folds.y;
  return marks;
}

}  // namespace

std::optional<TrimMarks> find_marks(const cv::Mat& canvas, double dpi, const Job& job) {
  const Reduced small = reduced(canvas, dpi);
  if (auto marks = dark_marks(small, dpi, job)) return marks;
  const cv::Mat negative = cv::Scalar::all(255) - small.rgb;  // where light marks are dark
  return dark_marks({negative, small.factor}, dpi, job);
}

}  // namespace frisket
