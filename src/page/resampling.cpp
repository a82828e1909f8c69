#include "page/resampling.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <utility>

#include "page/resampling_axis.hpp"
#include "page/resampling_choice.hpp"
#include "page/turned_grid.hpp"

namespace frisket {
namespace {

constexpr int least_side = 128;      // fewer pixels hold too few periods
constexpr int looked_at_side = 512;  // more adds time, hardly evidence
constexpr int cell = 64;             // grid on which the busiest square is looked for

// How often answers of each kind were right within 5 % on photographs not used in tuning.
constexpr double both_axes = 0.97, supported = 0.93, one_axis = 0.85, no_trace = 0.97;
constexpr double deep = -0.4;          // of both axes' dips together
constexpr double least_unequal = 1.2;  // nearer to 1 stripes and weaves look alike
constexpr double most_ratio = 1.55;    // of the axes: pictures are hardly ever stretched by more

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

Resampling enlarged(double x, double y, double confidence, std::string why) {
  return {x, y, false, std::move(why), confidence, 0};
}

Resampling unknown(std::string why) { return {{}, {}, false, std::move(why), 0.0, 0}; }

std::string mixes(Kernel kernel) {
  return "its pixels are mixes of a coarser grid (" + std::string(kernel_name(kernel)) + ")";
}

Resampling from_repeated(double x, double y) {
  const std::string why = "its pixels are repeated on a regular grid";
  if (agree(x, y, 0.03)) return enlarged(std::max(x, y), std::max(x, y), both_axes, why);
  if (agree(x, y, std::log(most_ratio))) return enlarged(x, y, both_axes, why);
  // what repeats in part of the pixels only is told too small: the coarser grid is there, the finer by chance
  const double most = std::max(x, y);
  return most > 2.0 ? enlarged(most, most, supported, why) : unknown("its two axes contradict each other");
}

/// Repeated pixels hide from neither axis by half: one that shows none has to be without anything to repeat.
Resampling from_one_repeated(double factor, const AxisEvidence& other) {
  const Choice own = choose(cases_on(guesses_of(other, other), Axes::both));
  const bool agrees = own.taken && agree(own.taken->factor, factor, 0.03);
  if (!agrees && (own.taken || own.is_doubtful || other.fine_detail > 1.5 * other.calm_detail))
    return unknown("its two axes contradict each other");
  return enlarged(factor, factor, supported, "its pixels are repeated on a regular grid");
}

/// Both axes sure of factors of their own.
std::optional<Resampling> unequal(const std::vector<Guess>& guesses, const std::optional<Case>& both) {
  const Choice x = choose(cases_on(guesses, Axes::x)), y = choose(cases_on(guesses, Axes::y));
  if (!x.taken || !y.taken || !is_strong(*x.taken) || !is_strong(*y.taken)) return std::nullopt;
  const double fx = x.taken->factor, fy = y.taken->factor;
  if (agree(fx, fy, 0.03) || !agree(fx, fy, std::log(most_ratio))) return std::nullopt;
  if (std::min(fx, fy) < least_unequal) return std::nullopt;
  if (std::abs(1.0 / fx + 1.0 / fy - 1.0) < 0.01) return std::nullopt;  // one grid, seen through its alias
  const double depth = (x.taken->depth + y.taken->depth) / 2.0;
  const bool clearly_two = both && depth < both->depth - 0.12 && both->low_peak < 0.35 * both->high_peak &&
                           std::min(x.taken->low_peak, y.taken->low_peak) > 8.0;
  if (both && depth >= both->depth - 0.5 && !clearly_two) return std::nullopt;
  return enlarged(fx, fy, one_axis, mixes(x.taken->kernel));
}

/// True where an axis speaks more clearly for another factor than both together do for theirs.
bool is_contradicted_by_an_axis(const std::vector<Guess>& guesses, const Case& both) {
  if (both.low_peak >= 4.0 || (both.low_peak >= 2.0 && both.high_peak >= 5.0 && both.depth < -0.7))
    return false;
  return is_contradicted(cases_on(guesses, Axes::x), both.factor) ||
         is_contradicted(cases_on(guesses, Axes::y), both.factor);
}

/// One axis sure, and the other at least not against it: nobody enlarges one axis only.
std::optional<Resampling> one_sure(const std::vector<Guess>& guesses) {
  for (const auto& [sure, silent] : {std::pair(Axes::x, Axes::y), std::pair(Axes::y, Axes::x)}) {
    const Choice own = choose(cases_on(guesses, sure));
    if (!own.taken || own.taken->dip >= 0.5 || own.taken->factor <= 1.3) continue;
    const std::vector<Case> others = cases_on(guesses, silent);
    const Case* same = find_case(others, own.taken->factor);
    double deepest = 0.0;
    for (const Case& on : others)
      if (is_plausible(on)) deepest = std::min(deepest, on.depth);
    if (same && same->dip < 0.97 && same->residual < 0.62 && same->depth < 0.5 * deepest)
      return enlarged(own.taken->factor, own.taken->factor, one_axis, mixes(own.taken->kernel));
  }
  return std::nullopt;
}

/// True where there is too much to call a picture as fine as the page, if too little to tell a factor.
bool is_suspected(const std::vector<Guess>& guesses) {
  const auto suspicious = [](const AxisSays& axis) {
    return axis.peak > 8.0 && axis.fit.dip < 0.65 && !axis.unscaled_tooth;
  };
  return std::ranges::any_of(guesses, [&](const Guess& guess) {
    if (guess.factor < 1.05) return false;
    const double peak = std::min(guess.x.peak, guess.y.peak);
    const bool dips = guess.x.fit.dip * guess.y.fit.dip < 0.5;
    const bool on_both =
        ((peak > 5.0 && dips) || peak > 20.0) && !(guess.x.unscaled_tooth || guess.y.unscaled_tooth);
    return on_both || suspicious(guess.x) || suspicious(guess.y);
  });
}

/// The answer where pixels are mixes of a coarser grid; empty where nothing shows that they are.
std::optional<Resampling> from_mixed(const std::vector<Guess>& guesses) {
  const Choice both = choose(cases_on(guesses, Axes::both));
  if (auto answer = unequal(guesses, both.taken)) return answer;
  if (both.taken) {
    if (is_contradicted_by_an_axis(guesses, *both.taken))
      return unknown("its two axes contradict each other");
    if (both.taken->depth > deep) return unknown("its traces of a coarser grid are too faint to be sure");
    const double factor = both.taken->factor;
    return enlarged(factor, factor, both_axes, mixes(both.taken->kernel));
  }
  if (auto answer = one_sure(guesses)) return answer;
  if (both.is_doubtful) return unknown(both.why_not);
  if (is_suspected(guesses)) return unknown("it shows traces that may be of enlarging, but not by how much");
  return std::nullopt;
}

constexpr const char* hidden_by_jpeg = "the page was saved as JPEG, which hides the traces of scaling";

/// True for factors that the blocks of 8 px of a page that was JPEG cannot have made.
bool outlives_jpeg(const Resampling& told) {
  const auto is_block = [](double factor) {
    const double tooth = 8.0 / factor;
    return factor < 1.35 || std::abs(tooth - std::round(tooth)) < 0.03 * tooth;
  };
  return told.factor_x && told.confidence >= supported && !is_block(*told.factor_x) &&
         !is_block(*told.factor_y);
}

/// Two clear block grids of one pitch: the picture was enlarged, but by 1, 2 or 4 times what the pitch says.
bool is_scaled_jpeg(const AxisEvidence& x, const AxisEvidence& y) {
  return agree(x.grid.factor, y.grid.factor, 0.015) && std::min(x.grid.score, y.grid.score) > 0.9 &&
         std::max(x.grid.score, y.grid.score) > 1.1 && x.grid.factor >= least_enlargement;
}

/// An axis with less has been smoothed by something, if not by enlarging; times rounding.
constexpr double least_detail = 1.5;

Resampling none_found(const AxisEvidence& x, const AxisEvidence& y) {
  if (is_scaled_jpeg(x, y))
    return unknown("a JPEG grid of " + text("%.1f", 8.0 * x.grid.factor) +
                   " px shows that it was scaled, but not from what size");
  const bool one_blurred = std::min(x.fine_detail, y.fine_detail) < least_detail;
  if (!one_blurred && (x.has_page_detail() || y.has_page_detail()))
    return {{},       {}, true, "it has detail as fine as the page's own pixels and no trace of enlarging",
            no_trace, 0};
  return unknown("it is too soft or too smooth to tell an enlarged picture from one that is out of focus");
}

/// Milliseconds that were measured for looking along the axes, and for the guesses below and above 1.15.
int work_of(const std::vector<Guess>& guesses) {
  constexpr double looking = 10.0, small = 2.5, usual = 1.0;
  double work = looking;
  for (const Guess& guess : guesses) work += guess.factor < 1.15 ? small : usual;
  return static_cast<int>(work);
}

/// The answer of an upright picture whose pixels are not repeated, else of a turned one.
Resampling from_guesses(const std::vector<Guess>& guesses, const AxisEvidence& x, const AxisEvidence& y,
                        const cv::Mat1f& luma, const PageHistory& history) {
  const Resampling mixed = from_mixed(guesses).value_or(Resampling{});
  if (history.was_jpeg) return outlives_jpeg(mixed) ? mixed : unknown(hidden_by_jpeg);
  if (mixed.factor_x) return mixed;
  const Resampling upright = mixed.why.empty() ? none_found(x, y) : mixed;
  const std::optional<TurnedGrid> turned_grid = find_turned_grid(luma);
  if (!turned_grid) return upright;
  if (!turned_grid->factor) return unknown("it shows a pattern that may be of enlarging at an angle");
  return enlarged(*turned_grid->factor, *turned_grid->factor, supported,
                  "it was turned, and its pixels lie on a coarser grid");
}

}  // namespace

Resampling estimate_resampling(const cv::Mat& rgb, const PageHistory& history) {
  if (rgb.cols < least_side || rgb.rows < least_side)
    return unknown("it is smaller than " + text("%.0f", least_side) + " px on a side, too small to measure");
  const cv::Mat1f luma = luma_of(rgb(busiest_part(rgb)));
  cv::Mat1f turned;
  cv::transpose(luma, turned);
  const AxisEvidence x = look_along(luma), y = look_along(turned);
  Resampling told;
  std::vector<Guess> guesses;
  if (x.repeated && y.repeated) {
    told = from_repeated(*x.repeated, *y.repeated);
  } else if (x.repeated || y.repeated) {
    told = from_one_repeated(x.repeated ? *x.repeated : *y.repeated, x.repeated ? y : x);
  } else {
    guesses = guesses_of(x, y);
    told = from_guesses(guesses, x, y, luma, history);
  }
  told.work = work_of(guesses);
  return told;
}

}  // namespace frisket
