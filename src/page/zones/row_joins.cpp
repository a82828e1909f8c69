#include "page/zones/row_joins.hpp"

#include <array>
#include <cstring>

namespace frisket {
namespace {

constexpr int channels = 3;
constexpr int block = 64;  // pixels judged at a time: on most pages most blocks are of one colour

/// The curvature a ramp may have: rounding of two steps to whole levels.
constexpr int ramp_rounding = 2;

/// One byte a sample of a block, a pixel's channels one after the other: loops over them run on many at once.
using Samples = std::array<std::uint8_t, static_cast<std::size_t>(channels* block)>;

/// What is known of a sample, as bits. Of a pixel that holds which holds of all of its samples.
enum Mark : std::uint8_t {
  small = 1,    ///< the step from a to b
  ramp = 2,     ///< it is larger, but the colour changes as fast before and after
  same = 4,     ///< there is no step
  level_a = 8,  ///< no border runs along a
  level_b = 16
};

/// Rows or columns of samples.
struct Pairs {
  const std::uint8_t *beyond_a, *a, *b, *beyond_b;  ///< one after the other; null where the area ends
  const std::uint8_t *beside_a, *beside_b;  ///< on one side of `a` and `b`; themselves at the area's edge
  const std::uint8_t *across_a, *across_b;  ///< on the other
};

void set_steps(const std::uint8_t* a, const std::uint8_t* b, std::size_t n, Samples& steps) {
  for (std::size_t i = 0; i < n; ++i)
    steps[i] = static_cast<std::uint8_t>(std::max(a[i], b[i]) - std::min(a[i], b[i]));
}

void mark_up_to(int most, const Samples& steps, std::size_t n, Mark mark, Samples& marks) {
  const auto limit = static_cast<std::uint8_t>(most);
  for (std::size_t i = 0; i < n; ++i) marks[i] |= static_cast<std::uint8_t>(steps[i] <= limit ? mark : 0);
}

/// Takes `ramp` away where b bends by more than rounding between a and c.
void clear_bends(const std::uint8_t* a, const std::uint8_t* b, const std::uint8_t* c, std::size_t n,
                 Samples& marks) {
  constexpr std::uint8_t rest = 0xff ^ ramp;
  for (std::size_t i = 0; i < n; ++i) {
    const std::int16_t bend = static_cast<std::int16_t>(a[i] + c[i] - 2 * b[i]);
    marks[i] &= bend <= ramp_rounding && bend >= -ramp_rounding ? std::uint8_t{0xff} : rest;
  }
}

void mark_ramps(const Pairs& pairs, const Samples& steps, int most, std::size_t n, Samples& marks) {
  if (pairs.beyond_a == nullptr || pairs.beyond_b == nullptr) return;
  mark_up_to(most, steps, n, ramp, marks);
  clear_bends(pairs.beyond_a, pairs.a, pairs.b, n, marks);
  clear_bends(pairs.a, pairs.b, pairs.beyond_b, n, marks);
}

void mark_level(const Pairs& pairs, int most, std::size_t n, Samples& marks) {
  Samples turns;
  set_steps(pairs.beside_a, pairs.across_a, n, turns);
  mark_up_to(most, turns, n, level_a, marks);
  set_steps(pairs.beside_b, pairs.across_b, n, turns);
  mark_up_to(most, turns, n, level_b, marks);
}

/// 1 where all samples of a pixel together say so.
void set_joins(const Samples& marks, int pixels, std::uint8_t* joins) {
  Samples joined;  // of all groups of three samples, of which each third is a pixel: quicker for all that
  for (std::size_t i = 0; i + 2 < marks.size(); ++i) {
    const auto all = static_cast<std::uint8_t>(marks[i] & marks[i + 1] & marks[i + 2]);
    joined[i] =
        static_cast<std::uint8_t>(((all & (small | ramp)) != 0) & ((all & (same | level_a | level_b)) != 0));
  }
  const std::uint8_t* sample = joined.data();
  for (int x = 0; x < pixels; ++x, sample += channels) joins[x] = *sample;
}

/// Sets `joins` for up to a block of pixels: where the step is small, or larger in a ramp, but along a border
/// only where there is none.
void join(const Pairs& pairs, int pixels, ZoneRule rule, std::uint8_t* joins) {
  const auto n = static_cast<std::size_t>(channels * pixels);
  if (std::memcmp(pairs.a, pairs.b, n) == 0) {
    std::memset(joins, 1, static_cast<std::size_t>(pixels));
    return;
  }
  Samples steps, marks;
  set_steps(pairs.a, pairs.b, n, steps);
  marks.fill(rule.border_step > 0 ? 0 : level_a | level_b);
  mark_up_to(rule.step, steps, n, small, marks);
  mark_up_to(0, steps, n, same, marks);
  if (rule.ramp_step > rule.step) mark_ramps(pairs, steps, rule.ramp_step, n, marks);
  if (rule.border_step > 0) mark_level(pairs, rule.border_step, n, marks);
  set_joins(marks, pixels, joins);
}

/// Sets `joins` for the pixels from `begin` up to `end`, whose samples `pairs` gives from x = 0.
void join_all(const Pairs& pairs, int begin, int end, ZoneRule rule, std::vector<std::uint8_t>& joins) {
  for (int x = begin; x < end; x += block) {
    const std::ptrdiff_t at = channels * x;
    const auto moved = [&](const std::uint8_t* row) { return row == nullptr ? nullptr : row + at; };
    join({moved(pairs.beyond_a), pairs.a + at, pairs.b + at, moved(pairs.beyond_b), pairs.beside_a + at,
          pairs.beside_b + at, pairs.across_a + at, pairs.across_b + at},
         std::min(block, end - x), rule, joins.data() + x);
  }
}

}  // namespace

RowJoins::RowJoins(const cv::Mat& rgb, const cv::Rect& area, ZoneRule rule, int first)
    : rgb_(rgb(area)), rule_(rule), y_(first - 1) {
  for (std::vector<std::uint8_t>* joins : {&left_, &above_, &below_})
    joins->assign(static_cast<std::size_t>(rgb_.cols), 0);
  if (y_ >= 0) join_below();
}

void RowJoins::next() {
  ++y_;
  join_along();
  above_.swap(below_);
  join_below();
}

void RowJoins::join_along() {
  std::ranges::fill(left_, std::uint8_t{0});
  const int width = rgb_.cols;
  const std::uint8_t *here = row(y_), *up = row(std::max(0, y_ - 1)),
                     *down = row(std::min(rgb_.rows - 1, y_ + 1));
  const auto pairs = [&](bool is_first, bool is_last) {
    return Pairs{is_first ? nullptr : here - 2 * channels,
                 here - channels,
                 here,
                 is_last ? nullptr : here + channels,
                 up - channels,
                 up,
                 down - channels,
                 down};
  };
  // Nothing lies beyond the first pixel of the row and the last.
  join_all(pairs(true, width == 2), 1, std::min(2, width), rule_, left_);
  join_all(pairs(false, false), 2, width - 1, rule_, left_);
  join_all(pairs(false, true), std::max(2, width - 1), width, rule_, left_);
}

void RowJoins::join_below() {
  std::ranges::fill(below_, std::uint8_t{0});
  if (y_ + 1 >= rgb_.rows) return;
  const int width = rgb_.cols;
  const std::uint8_t *here = row(y_), *down = row(y_ + 1);
  const auto pairs = [&](bool is_first, bool is_last) {
    const int before = is_first ? 0 : channels, after = is_last ? 0 : channels;
    return Pairs{row(y_ - 1),   here,          down,         row(y_ + 2),
                 here - before, down - before, here + after, down + after};
  };
  // Nothing lies beside the first pixel of the row and the last.
  join_all(pairs(true, width == 1), 0, 1, rule_, below_);
  join_all(pairs(false, false), 1, width - 1, rule_, below_);
  join_all(pairs(false, true), std::max(1, width - 1), width, rule_, below_);
}

const std::uint8_t* RowJoins::row(int y) const {
  return y >= 0 && y < rgb_.rows ? rgb_.ptr<std::uint8_t>(y) : nullptr;
}

}  // namespace frisket
