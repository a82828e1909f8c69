#include "page/resampling.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <utility>

#include "page/resampling_axis.hpp"
#include "page/resampling_joint.hpp"

namespace frisket {
namespace {

constexpr int least_side = 64;        // fewer pixels hold too few periods
constexpr int looked_at_side = 1024;  // more adds time, hardly evidence
constexpr int cell = 64;              // grid on which the busiest square is looked for

// How often answers of each kind were right within 5 % on photographs not used in tuning.
constexpr double both_axes = 0.98, supported = 0.93, one_axis = 0.85, joint = 0.85, no_trace = 0.97;

cv::Mat1f luma_of(const cv::Mat& rgb) {
  cv::Mat floating, mixed;
  rgb.convertTo(floating, CV_32F);
  // BT.601 weights: a linear mix, which also cancels the enlarged colour of 4:2:0 JPEG
  cv::transform(floating, mixed, cv::Matx13f(0.299F, 0.587F, 0.114F));
  return mixed;
}

/// Activity of each whole cell: the sum of |second difference| along both axes, on every second row.
cv::Mat1d cell_activity(const cv::Mat& green) {
  cv::Mat1d cells(green.rows / cell, green.cols / cell, 0.0);
  for (int y = 1; y + 1 < cells.rows * cell; y += 2) {
    const std::uint8_t *above = green.ptr(y - 1), *row = green.ptr(y), *below = green.ptr(y + 1);
    for (int x = 1; x + 1 < cells.cols * cell; ++x)
      cells(y / cell, x / cell) +=
          std::abs(row[x - 1] - 2 * row[x] + row[x + 1]) + std::abs(above[x] - 2 * row[x] + below[x]);
  }
  return cells;
}

/// The square (or what fits of it) with most activity.
cv::Rect busiest_part(const cv::Mat& rgb) {
  const cv::Size size(std::min(rgb.cols, looked_at_side), std::min(rgb.rows, looked_at_side));
  if (size == rgb.size()) return {cv::Point(), size};
  cv::Mat green;
  cv::extractChannel(rgb, green, 1);
  cv::Mat1d sums;
  cv::integral(cell_activity(green), sums, CV_64F);
  const int wide = size.width / cell, high = size.height / cell;
  cv::Point best;
  double most = -1.0;
  for (int i = 0; i + high < sums.rows; ++i)
    for (int j = 0; j + wide < sums.cols; ++j) {
      const double sum = sums(i + high, j + wide) - sums(i, j + wide) - sums(i + high, j) + sums(i, j);
      if (sum > most) most = sum, best = {j * cell, i * cell};
    }
  return {best, size};
}

bool agree(double a, double b, double within) { return std::abs(std::log(a / b)) < within; }

std::string text(const char* format, double value) {
  char out[96];
  std::snprintf(out, sizeof out, format, value);
  return out;
}

Resampling enlarged(std::optional<double> x, std::optional<double> y, double confidence, std::string why) {
  return {x, y, false, std::move(why), confidence};
}

Resampling unknown(std::string why) { return {{}, {}, false, std::move(why), 0.0}; }

std::optional<double> factor_of(const AxisEvidence& axis) {
  if (axis.repeated) return axis.repeated;
  return axis.found ? std::optional(axis.found->factor) : std::nullopt;
}

std::string how(const AxisEvidence& axis) {
  if (axis.repeated) return "its pixels are repeated on a regular grid";
  return "its pixels are mixes of a coarser grid (" + std::string(kernel_name(axis.found->fit.kernel)) + ")";
}

/// The answer where both axes found a factor of their own.
std::optional<Resampling> both_found(const AxisEvidence& x, const AxisEvidence& y) {
  const double fx = *factor_of(x), fy = *factor_of(y);
  const auto dip = [](const AxisEvidence& axis) { return axis.repeated ? 0.0 : axis.found->fit.dip; };
  if (agree(fx, fy, 0.03)) {
    const double factor = dip(x) <= dip(y) ? fx : fy;
    return enlarged(factor, factor, both_axes, how(dip(x) <= dip(y) ? x : y));
  }
  // Whole ratios are one grid seen once at its own pitch, once at a part of it (an area filter has two steps
  // to a pixel), frequencies that add up to 1 are one seen through its alias; pictures are hardly ever
  // stretched so.
  const AxisEvidence& larger = fx > fy ? x : y;
  const double ratio = std::max(fx, fy) / std::min(fx, fy), most = std::max(fx, fy);
  const bool whole = ratio > 1.9 && std::abs(ratio - std::round(ratio)) < (larger.repeated ? 0.05 : 0.02);
  if (whole || (ratio > 1.5 && agree(1.0 / fx + 1.0 / fy, 1.0, 0.015))) {
    const bool sure =
        larger.repeated || (larger.found->fit.dip < clear_dip && larger.found->fit.residual < rounding_floor);
    return sure ? enlarged(most, most, supported, how(larger))
                : unknown("its two axes contradict each other");
  }
  if (x.repeated && y.repeated) return enlarged(fx, fy, both_axes, how(x));
  return std::nullopt;
}

/// True where the factor of one axis also leaves traces on the other.
bool is_supported(const AxisEvidence& other, double factor) {
  const std::optional<double> its_own = factor_of(other);
  if (its_own && *its_own > factor * 1.03) return false;  // a smaller factor always fits a larger one's grid
  const Trial trial = look_for(other, factor);
  return (trial.height > 4.0 && trial.fit.dip < 0.9 && trial.fit.residual < 2 * rounding_floor) ||
         (trial.fit.dip < clear_dip && trial.fit.residual < rounding_floor);
}

/// True where one axis is sure without the other.
bool stands_alone(const AxisEvidence& axis) {
  if (axis.repeated) return true;
  if (agree(axis.grid.factor, axis.found->factor, 0.012) && axis.grid.score > 0.9) return true;
  return axis.found->fit.dip < 0.45 && axis.found->fit.residual < rounding_floor && axis.found->height > 6.0;
}

/// True where the larger factor with the same peaks fits the axis as well.
bool has_alias(const AxisEvidence& axis, double factor) {
  const double alias = factor < 1.95 ? 1.0 / (1.0 - 1.0 / factor) : most_enlargement + 1.0;
  if (alias > most_enlargement) return false;
  const Trial other = look_for(axis, alias);
  return other.fit.dip < 0.98 && other.fit.residual < rounding_floor;
}

/// The factor of an axis that is not sure of one, where the other axis is sure of `factor`: the same if it
/// fits there as well, else its own best guess. Empty: not told.
std::optional<double> silent_axis(const AxisEvidence& axis, double factor, bool other_repeated) {
  if (other_repeated) return factor;  // repeated pixels hide from neither axis by half: a flat one agrees
  const Trial same = look_for(axis, factor);
  if (axis.guess && has_alias(axis, axis.guess->factor)) return std::nullopt;
  if (axis.guess && axis.guess->fit.dip < 0.85 && axis.guess->fit.dip < same.fit.dip)
    return axis.guess->factor;
  if (same.fit.dip < 0.95 && same.fit.residual < rounding_floor) return factor;
  return std::nullopt;  // also where it is as fine as the page: nobody enlarges one axis only
}

std::optional<Resampling> some_found(const AxisEvidence& x, const AxisEvidence& y) {
  const std::optional<double> fx = factor_of(x), fy = factor_of(y);
  if (fx && fy)
    if (auto answer = both_found(x, y)) return answer;
  for (const auto& [axis, other] : {std::pair(&x, &y), std::pair(&y, &x)}) {
    if (axis->found && is_supported(*other, axis->found->factor))
      return enlarged(axis->found->factor, axis->found->factor, supported, how(*axis));
  }
  const bool x_alone = fx && stands_alone(x), y_alone = fy && stands_alone(y);
  if (x_alone && y_alone) return enlarged(fx, fy, one_axis, how(x));
  if (x_alone)
    if (const auto other = silent_axis(y, *fx, x.repeated.has_value()))
      return enlarged(fx, other, one_axis, how(x));
  if (y_alone)
    if (const auto other = silent_axis(x, *fy, y.repeated.has_value()))
      return enlarged(other, fy, one_axis, how(y));
  return std::nullopt;
}

/// Evidence that is faint on each axis but the same on both.
std::optional<Resampling> jointly_found(const AxisEvidence& x, const AxisEvidence& y) {
  const std::optional<JointFinding> found = find_jointly(x, y);
  if (!found) return std::nullopt;
  if (found->ambiguous) {
    const double other = 1.0 / (1.0 - 1.0 / found->factor);
    return unknown("it was enlarged " + text("%.2f", found->factor) + " or " + text("%.2f", other) +
                   " times, and is too soft to tell which");
  }
  return enlarged(
      found->factor, found->factor, joint,
      "both axes show faint traces of a coarser grid (" + std::string(kernel_name(found->kernel)) + ")");
}

/// A JPEG at the page's own resolution brings an 8 px grid and detail with it.
bool is_unscaled_jpeg(const AxisEvidence& x, const AxisEvidence& y) {
  return agree(x.grid.factor, y.grid.factor, 0.015) && x.grid.factor < 1.02 &&
         std::min(x.grid.score, y.grid.score) > 0.9 && std::max(x.fine_detail, y.fine_detail) > 1.6;
}

/// Two clear block grids of one pitch: the picture was enlarged, but by 1, 2 or 4 times what the pitch says.
bool is_scaled_jpeg(const AxisEvidence& x, const AxisEvidence& y) {
  return agree(x.grid.factor, y.grid.factor, 0.015) && std::min(x.grid.score, y.grid.score) > 0.9 &&
         std::max(x.grid.score, y.grid.score) > 1.1 && x.grid.factor >= least_enlargement;
}

/// An axis with less has been smoothed by something, if not by enlarging; times rounding.
constexpr double least_detail = 1.5;

Resampling none_found(const AxisEvidence& x, const AxisEvidence& y, const PageHistory& history) {
  if (is_scaled_jpeg(x, y))
    return unknown("a JPEG grid of " + text("%.1f", 8.0 * x.grid.factor) +
                   " px shows that it was scaled, but not from what size");
  if (history.was_jpeg) return unknown("the page was saved as JPEG, which hides the traces of scaling");
  const bool one_blurred = std::min(x.fine_detail, y.fine_detail) < least_detail;
  if ((!one_blurred && (x.has_page_detail() || y.has_page_detail())) || is_unscaled_jpeg(x, y))
    return {
        {}, {}, true, "it has detail as fine as the page's own pixels and no trace of enlarging", no_trace};
  return unknown("it is too soft or too smooth to tell an enlarged picture from one that is out of focus");
}

}  // namespace

Resampling estimate_resampling(const cv::Mat& rgb, const PageHistory& history) {
  if (rgb.cols < least_side || rgb.rows < least_side)
    return unknown("it is smaller than " + text("%.0f", least_side) + " px on a side, too small to measure");
  const cv::Mat1f luma = luma_of(rgb(busiest_part(rgb)));
  const AxisEvidence x = look_along(luma);
  cv::Mat1f turned;
  cv::transpose(luma, turned);
  const AxisEvidence y = look_along(turned);
  const bool any = factor_of(x) || factor_of(y);
  if (any)
    if (const auto answer = some_found(x, y)) return *answer;
  if (!x.repeated && !y.repeated)
    if (const auto answer = jointly_found(x, y)) return *answer;
  if (any) return unknown("its two axes contradict each other");
  return none_found(x, y, history);
}

}  // namespace frisket
