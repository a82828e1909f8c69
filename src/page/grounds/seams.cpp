#include "page/grounds/seams.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "page/zones/label_window.hpp"
#include "page/zones/on_all_cores.hpp"
#include "page/zones/run_components.hpp"

namespace frisket {
namespace {

/// How wide a seam is, px. A renderer mixes the two colours in a pixel or two; JPEG rings to the end of the
/// block of 8 (ITU-T T.81).
constexpr int drawn_reach = 2, jpeg_reach = 10;
/// How far its colours lie off the line between those that it parts: conversions bend it.
constexpr float slack = 18.0F;  // levels

/// How far two colours are apart that differ by so much: JPEG keeps lightness better than hue, and hue often
/// at half the resolution (ITU-T T.81), so the two differences of colour, as ITU-T T.871 (JFIF) has them,
/// count by half.
float apart(const cv::Vec3f& difference) {
  const float lightness = 0.299F * difference[0] + 0.587F * difference[1] + 0.114F * difference[2];
  return std::max({std::abs(lightness), 0.282F * std::abs(difference[2] - lightness),
                   0.357F * std::abs(difference[0] - lightness)});
}

/// Is `mixed` made of the two colours, as a pixel is that both cover in part: near the straight line between
/// them? What else lies there, a narrow strip of a picture or a letter, seldom is.
bool mixes(const cv::Vec3b& mixed, const cv::Vec3b& a, const cv::Vec3b& b) {
  const cv::Vec3f from = a, whole = cv::Vec3f(b) - from, part = cv::Vec3f(mixed) - from;
  const float length = whole.dot(whole);
  const float share = length > 0.0F ? std::clamp(part.dot(whole) / length, 0.0F, 1.0F) : 0.0F;
  return apart(part - share * whole) <= slack;
}

/// Finds the pixels between two surfaces, and the nearer of the two, in some rows of a page.
class SeamCloser {
 public:
  SeamCloser(const cv::Mat& rgb, const LabelMap& before, int first, int reach)
      : rgb_(rgb), before_(before), first_(first), reach_(reach), window_(before, first, reach) {}

  LabelMap run(int last) {
    LabelMap closed({rgb_.cols, last - first_}, 0);
    std::vector<Run> gaps, row;
    for (int y = first_; y < last; ++y) {
      window_.move_to(y);
      gaps.clear();
      gaps_between(before_.row(y), rgb_.cols, gaps);
      row.assign(before_.row(y).begin(), before_.row(y).end());
      std::erase_if(gaps,
                    [&, at = RowStarts{}](const Run& gap) mutable { return !is_between_two(y, gap, at); });
      if (!gaps.empty()) {
        const std::size_t fields = row.size();
        mark_near(y, -1, near_above_);
        mark_near(y, 1, near_below_);
        for (const Run& gap : gaps) close(y, gap, row);
        if (row.size() > fields) std::ranges::sort(row, {}, &Run::begin);
      }
      closed.add_row(row);
    }
    return closed;
  }

 private:
  /// By row from y - reach: the first run that lies near the gap or beyond it.
  using RowStarts = std::array<std::size_t, 2 * jpeg_reach + 1>;

  /// Do two surfaces lie within reach of the gap? Round type on one ground there is but one. Gaps come from
  /// left to right.
  bool is_between_two(int y, const Run& gap, RowStarts& starts) const {
    int met = 0;
    for (int row = std::max(0, y - reach_); row <= std::min(rgb_.rows - 1, y + reach_); ++row) {
      const std::span<const Run> runs = before_.row(row);
      std::size_t& start = starts[static_cast<std::size_t>(row - y + reach_)];
      while (start < runs.size() && runs[start].end <= gap.begin - reach_) ++start;
      for (std::size_t i = start; i < runs.size() && runs[i].begin < gap.end + reach_; ++i) {
        if (met != 0 && runs[i].label != met) return true;
        met = runs[i].label;
      }
    }
    return false;
  }

  /// Where a diagonal or upright way to the two rows above (-1) or below (1) can meet a surface.
  void mark_near(int y, int way, std::vector<std::uint8_t>& near) const {
    near.assign(static_cast<std::size_t>(rgb_.cols), 0);
    for (int step = 1; step <= reach_; ++step) {
      const int row = y + way * step;
      if (row < 0 || row >= rgb_.rows) continue;
      for (const Run& run : before_.row(row))
        std::fill(near.begin() + std::max(0, run.begin - step),
                  near.begin() + std::min(rgb_.cols, run.end + step), std::uint8_t{1});
    }
  }

  void close(int y, const Run& gap, std::vector<Run>& row) const {
    for (int x = gap.begin; x < gap.end; ++x) {
      const bool between = x - gap.begin < reach_ && gap.end - x <= reach_;
      const auto at = static_cast<std::size_t>(x);
      if (!between && (near_above_[at] & near_below_[at]) == 0) continue;
      if (const int nearer = nearer_surface(y, x); nearer != 0) row.push_back({x, x + 1, nearer});
    }
  }

  cv::Point first_field(cv::Point from, cv::Point way) const {
    for (int step = 1; step <= reach_; ++step) {
      const cv::Point at = from + step * way;
      if (window_(at.y, at.x) != 0) return at;
    }
    return {-1, -1};
  }

  int nearer_surface(int y, int x) const {
    static const std::array<cv::Point, 4> ways{{{1, 0}, {0, 1}, {1, 1}, {1, -1}}};
    for (const cv::Point& way : ways) {
      const cv::Point a = first_field({x, y}, way), b = first_field({x, y}, -way);
      if (a.x < 0 || b.x < 0) continue;
      const int at_one = window_(a.y, a.x), at_other = window_(b.y, b.x);
      if (at_one == at_other) continue;
      const cv::Vec3b &here = rgb_.at<cv::Vec3b>(y, x), &one = rgb_.at<cv::Vec3b>(a),
                      &other = rgb_.at<cv::Vec3b>(b);
      if (mixes(here, one, other))
        return colour_step(here, one) <= colour_step(here, other) ? at_one : at_other;
    }
    return 0;
  }

  const cv::Mat& rgb_;
  const LabelMap& before_;
  int first_;
  int reach_;
  LabelWindow window_;
  std::vector<std::uint8_t> near_above_, near_below_;
};

}  // namespace

void close_seams(const cv::Mat& rgb, const Scale& scale, SurfaceMap& map) {
  constexpr int band = 256;  // rows
  std::vector<LabelMap> bands(static_cast<std::size_t>((rgb.rows + band - 1) / band));
  on_all_cores(bands.size(), [&](std::size_t i) {
    const int top = static_cast<int>(i) * band;
    bands[i] = SeamCloser(rgb, map.label, top, scale.lossy ? jpeg_reach : drawn_reach)
                   .run(std::min(rgb.rows, top + band));
  });
  LabelMap closed(rgb.size(), 0);
  for (const LabelMap& part : bands) closed.add_rows(part);
  map.label = std::move(closed);
}

}  // namespace frisket
