#include "page/pictures/picture_seams.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <optional>

#include "page/grounds/step_profile.hpp"

namespace frisket {
namespace {

constexpr double least_step = 3.0;  // grey levels: above grain
constexpr double line_ratio = 1.8;  // a line against the busiest column beside it
constexpr int line_width = 3;       // columns that a step between pixels takes, or a hairline

/// Where one picture ends and the next begins, columns of the canvas; equal where they touch.
struct Seam {
  int left, right;
};

bool is_peak(const std::vector<double>& profile, int at) {
  const int end = static_cast<int>(profile.size());
  for (int x = std::max(1, at - line_width); x < std::min(end, at + line_width + 1); ++x)
    if (profile[static_cast<std::size_t>(x)] > profile[static_cast<std::size_t>(at)]) return false;
  return profile[static_cast<std::size_t>(at)] >= least_step;
}

/// The strongest steps on both sides of a line, but for the few of the other edge of a gutter.
struct StepsBeside {
  double left, right;
  double calmer() const { return std::min(left, right); }
  double busier() const { return std::max(left, right); }
};

double strongest_step(const std::vector<double>& profile, int from, int to) {
  const int first = std::max(1, from), last = std::min(static_cast<int>(profile.size()), to);
  constexpr std::ptrdiff_t gutter = 3;
  if (last - first <= gutter) return 255.0;
  std::vector<double> steps(profile.begin() + first, profile.begin() + last);
  std::ranges::nth_element(steps, steps.begin() + gutter, std::greater{});
  return steps[gutter];
}

StepsBeside steps_beside(const std::vector<double>& profile, int at, int reach) {
  return {strongest_step(profile, at - 2 * reach, at - line_width),
          strongest_step(profile, at + line_width + 1, at + 2 * reach + 1)};
}

/// True where a line is near that is stronger than all on its one side, and no weaker than those on the
/// other.
bool line_near(const std::vector<double>& profile, int at, int reach) {
  const int last = std::min(static_cast<int>(profile.size()) - 1, at + line_width);
  for (int x = std::max(1, at - line_width); x <= last; ++x) {
    if (!is_peak(profile, x)) continue;
    const double step = profile[static_cast<std::size_t>(x)];
    const StepsBeside beside = steps_beside(profile, x, reach);
    if (step > line_ratio * beside.calmer() && step >= beside.busier()) return true;
  }
  return false;
}

/// True where the line at `at` is there all the way down but for an eighth, in which two pictures may be
/// alike.
bool goes_through(const GreyView& part, int at, int reach) {
  constexpr int eighths = 8;
  int without = 0;
  for (int i = 0; i < eighths && without <= 1; ++i)
    without +=
        !line_near(step_profile(part, part.rows() * i / eighths, part.rows() * (i + 1) / eighths), at, reach);
  return without <= 1;
}

/// Columns of a view as a picture of their own, upright.
cv::Mat1b upright(const GreyView& part, int first, int last) {
  const GreyView columns = part.part({first, 0, last - first, part.rows()});
  return columns.turned ? cv::Mat1b(columns.page.t()) : columns.page;
}

/// The bend over `reach` pixels, along rows or down columns, that three quarters of the pixels stay below;
/// grey levels. Not the mean: type may stand on a picture.
int usual_bend(const cv::Mat1b& grey, int reach, bool down) {
  const cv::Point way = down ? cv::Point(0, reach) : cv::Point(reach, 0);
  std::vector<int> bends;
  for (int y = way.y; y < grey.rows - way.y; ++y)
    for (int x = way.x; x < grey.cols - way.x; ++x) {
      const cv::Point at(x, y);
      bends.push_back(std::abs(grey(at - way) - 2 * grey(at) + grey(at + way)));
    }
  if (bends.empty()) return 0;
  const auto usual = bends.begin() + 3 * std::ssize(bends) / 4;
  std::ranges::nth_element(bends, usual);
  return *usual;
}

/// True for boards, blinds, corrugated iron: what varies from column to column and hardly down each of them.
/// In there straight lines are nothing special.
bool is_lined(const GreyView& part, int first, int last, int block) {
  constexpr double most_along = 0.2;  // found on photographs of boards and others: 0.02 to 0.15, and from 0.6
  constexpr int least_across = 3;     // grey levels; below it there are no lines
  first = std::max(0, first);
  last = std::min(part.cols(), last);
  const int reach = block / 2;
  if (last - first <= 2 * reach) return true;
  const cv::Mat1b side = upright(part, first, last);
  const int along = usual_bend(side, reach, true), across = usual_bend(side, reach, false);
  return across >= least_across && along <= std::max(1.0, most_along * across);
}

/// The strongest steps within `reach` of a line but for `but_for` of them, as a share of the step there.
double share_beside(const std::vector<double>& profile, int at, int reach, std::ptrdiff_t but_for) {
  const int first = std::max(1, at - reach),
            last = std::min(static_cast<int>(profile.size()), at + reach + 1);
  std::vector<double> steps(profile.begin() + first, profile.begin() + last);
  if (std::ssize(steps) <= but_for) return 1.0;
  std::ranges::nth_element(steps, steps.begin() + but_for, std::greater{});
  return steps[static_cast<std::size_t>(but_for)] / profile[static_cast<std::size_t>(at)];
}

/// True where one picture is cut off and another begins, from one pixel to the next or with a mixed one
/// between, or with a gutter, which is two such edges. A line within a scene (a horizon, a shore, a plank) is
/// never so sharp and straight along most of it. Where pictures met, what is beside was 0.07 and 0.04 of the
/// step and less, in scenes 0.13 and 0.1 and more but for a few.
/// `usual`: the strongest steps farther out, on the busier side; as much may be beside a cut as well.
bool is_cut(const std::vector<double>& profile, int at, double usual) {
  constexpr std::ptrdiff_t steps_of_an_edge = 2;
  constexpr double most_beside_edge = 0.1, most_beside_gutter = 0.06, of_usual = 1.6;
  const double beside_edge = share_beside(profile, at, line_width, steps_of_an_edge);
  return beside_edge <=
             std::max(most_beside_edge, of_usual * usual / profile[static_cast<std::size_t>(at)]) ||
         share_beside(profile, at, 2 * line_width, 2 * steps_of_an_edge) <= most_beside_gutter;
}

/// The lightest of the columns at a line that have one colour from end to end, as a rule or a gutter has;
/// grey level, -1 where there is none.
int lightest_flat_column(const GreyView& part, int at) {
  constexpr double nearly_all = 0.9;
  const cv::Mat1b columns =
      upright(part, std::max(0, at - line_width), std::min(part.cols(), at + line_width + 1));
  int lightest = -1;
  for (int x = 0; x < columns.cols; ++x) {
    const cv::Mat1b column = columns.col(x);
    const std::uint8_t colour = column(column.rows / 2, 0);
    if (cv::countNonZero(column == colour) > nearly_all * column.rows)
      lightest = std::max(lightest, int{colour});
  }
  return lightest;
}

/// True where pictures meet at the line `at` of the whole profile: it stands out on both sides; among lines
/// like it far out, or it is a rule; or else lines end there, and it stands out on the side without them.
bool is_seam(const GreyView& part, const std::vector<double>& whole, int at, int block) {
  constexpr double above_others = 2.5, above_lines = 12.0, more = 6.0;  // times, times, grey levels
  constexpr int no_shadow = 16;  // grey levels: deep shadows have one level too
  if (!is_peak(whole, at)) return false;
  const double step = whole[static_cast<std::size_t>(at)];
  const StepsBeside beside = steps_beside(whole, at, block);
  if (step < above_others * beside.calmer() + more || step < beside.busier()) return false;
  if (!goes_through(part, at, block)) return false;
  const int flat = lightest_flat_column(part, at);
  if (!is_cut(whole, at, beside.busier()) && flat < 0) return false;
  if (step > above_lines * beside.busier() + more || flat >= no_shadow) return true;
  const int side = 6 * block;
  const bool left_is_lined = is_lined(part, at - line_width - side, at - line_width, block);
  const bool right_is_lined = is_lined(part, at + line_width, at + line_width + side, block);
  if (left_is_lined != right_is_lined) return (beside.left < beside.right) == right_is_lined;
  return !left_is_lined && step > above_others * beside.busier() + more;
}

/// The strongest seam among the columns from `from` up to `to`, but for those at `except`.
std::optional<int> strongest_seam(const GreyView& part, const std::vector<double>& whole, int from, int to,
                                  int except, int block) {
  std::optional<int> best;
  for (int x = std::max(1, from); x < std::min(part.cols(), to); ++x) {
    const double step = whole[static_cast<std::size_t>(x)];
    if (std::abs(x - except) > line_width && (!best || step > whole[static_cast<std::size_t>(*best)]) &&
        is_seam(part, whole, x, block))
      best = x;
  }
  return best;
}

/// The seam in `box`, if it holds two pictures, with the other edge of the gutter if there is one.
std::optional<Seam> seam(const GreyView& grey, const cv::Rect& box, int block, int least_side) {
  const GreyView part = grey.part(box);
  const std::vector<double> whole = step_profile(part, 0, part.rows());
  const auto first = strongest_seam(part, whole, least_side, part.cols() - least_side, -least_side, block);
  if (!first) return std::nullopt;
  const int other =
      strongest_seam(part, whole, *first - 2 * block, *first + 2 * block, *first, block).value_or(*first);
  return Seam{box.x + std::min(*first, other), box.x + std::max(*first, other)};
}

void part_at_seams(const GreyView& grey, const GreyView& turned, const cv::Rect& box, int block,
                   int least_side, std::vector<cv::Rect>& out) {
  const int right = box.br().x, bottom = box.br().y;
  if (const auto x = seam(grey, box, block, least_side)) {
    part_at_seams(grey, turned, {box.x, box.y, x->left - box.x, box.height}, block, least_side, out);
    part_at_seams(grey, turned, {x->right, box.y, right - x->right, box.height}, block, least_side, out);
  } else if (const auto y = seam(turned, {box.y, box.x, box.height, box.width}, block, least_side)) {
    part_at_seams(grey, turned, {box.x, box.y, box.width, y->left - box.y}, block, least_side, out);
    part_at_seams(grey, turned, {box.x, y->right, box.width, bottom - y->right}, block, least_side, out);
  } else {
    out.push_back(box);
  }
}

}  // namespace

std::vector<cv::Rect> parted_at_seams(const cv::Mat1b& grey, const cv::Rect& box, int block, int least_side) {
  std::vector<cv::Rect> parts;
  part_at_seams({grey}, {grey, true}, box, block, least_side, parts);
  return parts;
}

}  // namespace frisket
