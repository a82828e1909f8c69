#include "page/row_joins.hpp"

namespace frisket {
namespace {

/// The curvature a ramp may have: rounding of two steps to whole levels.
constexpr int ramp_rounding = 2;

using Bytes = std::vector<std::uint8_t>;

/// out = the larger of `out` and |a - b|. The pointers do not overlap.
void widen_step(const std::uint8_t* __restrict a, const std::uint8_t* __restrict b, int n,
                std::uint8_t* __restrict out) {
  for (int x = 0; x < n; ++x) {
    const std::uint8_t step = static_cast<std::uint8_t>(std::max(a[x], b[x]) - std::min(a[x], b[x]));
    out[x] = std::max(out[x], step);
  }
}

/// Clears `steady` where b bends by more than rounding between a and c.
void clear_bends(const std::uint8_t* __restrict a, const std::uint8_t* __restrict b,
                 const std::uint8_t* __restrict c, int n, std::uint8_t* __restrict steady) {
  for (int x = 0; x < n; ++x) {
    const std::int16_t bend = static_cast<std::int16_t>(a[x] + c[x] - 2 * b[x]);
    steady[x] &= static_cast<std::uint8_t>(bend <= ramp_rounding && bend >= -ramp_rounding);
  }
}

/// Sets `steep` where the colours at a and b, one pixel to either side, differ by more than `most`.
void mark_steep(const std::uint8_t* __restrict a, const std::uint8_t* __restrict b, int n, int most,
                std::uint8_t* __restrict steep) {
  const auto limit = static_cast<std::uint8_t>(most);
  for (int x = 0; x < n; ++x) {
    const std::uint8_t turn = static_cast<std::uint8_t>(std::max(a[x], b[x]) - std::min(a[x], b[x]));
    steep[x] |= static_cast<std::uint8_t>(turn > limit);
  }
}

/// What is known of the pixels on both sides of a step.
struct Sides {
  const std::uint8_t *steady_before, *steady_here;
  const std::uint8_t *steep_before, *steep_here;
};

/// From steps to joins: none, small ones, and those up to `ramp_step` between two pixels where the change is
/// steady; along a border none alone.
void judge(std::uint8_t* __restrict steps, Sides sides, int n, ZoneRule rule) {
  const auto least = static_cast<std::uint8_t>(rule.step), most = static_cast<std::uint8_t>(rule.ramp_step);
  for (int x = 0; x < n; ++x) {
    const int steady = sides.steady_before[x] & sides.steady_here[x];
    const int border = sides.steep_before[x] & sides.steep_here[x];
    const int joined = (steps[x] <= least) | ((steps[x] <= most) & steady);
    steps[x] = static_cast<std::uint8_t>((steps[x] == 0) | (joined & (border ^ 1)));
  }
}

}  // namespace

RowJoins::RowJoins(const cv::Mat& rgb, const cv::Rect& area, ZoneRule rule, int first)
    : rgb_(rgb(area)), rule_(rule) {
  const auto width = static_cast<std::size_t>(rgb_.cols);
  for (Planes& row : rows_)
    for (Bytes& plane : row) plane.resize(width);
  for (Bytes* bytes :
       {&steady_, &steady_before_, &along_, &left_, &above_, &below_, &steep_, &steep_before_, &steep_down_})
    bytes->assign(width, 0);
  // Whether a change is steady at the first row, the two rows above say.
  y_ = std::max(0, first - 2) - 1;
  load(y_ + 1);
  load(y_ + 2);
  mark_steep_along(y_ + 1);
  while (y_ < first - 1) next();
}

void RowJoins::load(int y) {
  if (y >= rgb_.rows) return;
  Planes& row = planes(y);
  const cv::Vec3b* pixel = rgb_.ptr<cv::Vec3b>(y);
  std::uint8_t *r = row[0].data(), *g = row[1].data(), *b = row[2].data();
  for (int x = 0; x < rgb_.cols; ++x) r[x] = pixel[x][0], g[x] = pixel[x][1], b[x] = pixel[x][2];
}

void RowJoins::next() {
  ++y_;
  load(y_ + 2);
  join_along();
  above_.swap(below_);
  join_below();
}

void RowJoins::join_along() {
  const int n = rgb_.cols;
  std::ranges::fill(left_, std::uint8_t{0});
  if (n < 2) return;
  const Planes& row = planes(y_);
  for (const Bytes& plane : row) widen_step(plane.data() + 1, plane.data(), n - 1, left_.data() + 1);
  std::ranges::fill(along_, std::uint8_t{0});
  if (rule_.ramp_step > rule_.step) {
    std::fill(along_.begin() + 1, along_.end() - 1, std::uint8_t{1});
    for (const Bytes& plane : row)
      clear_bends(plane.data(), plane.data() + 1, plane.data() + 2, n - 2, along_.data() + 1);
  }
  if (rule_.border_step > 0) {
    std::ranges::fill(steep_down_, std::uint8_t{0});
    const int up = std::max(0, y_ - 1), down = std::min(rgb_.rows - 1, y_ + 1);
    for (std::size_t i = 0; i < 3; ++i)
      mark_steep(planes(up)[i].data(), planes(down)[i].data(), n, rule_.border_step, steep_down_.data());
  }
  judge(left_.data() + 1, {along_.data(), along_.data() + 1, steep_down_.data(), steep_down_.data() + 1},
        n - 1, rule_);
}

void RowJoins::join_below() {
  const int n = rgb_.cols, next = y_ + 1;
  steady_.swap(steady_before_);
  const bool between = rule_.ramp_step > rule_.step && next + 1 < rgb_.rows;
  std::ranges::fill(steady_, std::uint8_t{between});
  std::ranges::fill(below_, std::uint8_t{0});
  if (next >= rgb_.rows) return;
  Planes &here = planes(y_), &down = planes(next), &farther = planes(next + 1);
  for (std::size_t i = 0; i < 3; ++i) {
    widen_step(here[i].data(), down[i].data(), n, below_.data());
    if (between) clear_bends(here[i].data(), down[i].data(), farther[i].data(), n, steady_.data());
  }
  steep_.swap(steep_before_);
  mark_steep_along(next);
  judge(below_.data(), {steady_before_.data(), steady_.data(), steep_before_.data(), steep_.data()}, n,
        rule_);
}

void RowJoins::mark_steep_along(int y) {
  const int n = rgb_.cols;
  if (rule_.border_step == 0 || n < 2) return;
  std::ranges::fill(steep_, std::uint8_t{0});
  for (const Bytes& plane : planes(y)) {
    mark_steep(plane.data(), plane.data() + 2, n - 2, rule_.border_step, steep_.data() + 1);
    // At the edge of the area one side is the pixel itself.
    mark_steep(plane.data(), plane.data() + 1, 1, rule_.border_step, steep_.data());
    mark_steep(plane.data() + n - 2, plane.data() + n - 1, 1, rule_.border_step, steep_.data() + n - 1);
  }
}

}  // namespace frisket
