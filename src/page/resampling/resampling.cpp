#include "page/resampling/resampling.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <utility>

#include "page/resampling/axis.hpp"
#include "page/resampling/choice.hpp"
#include "page/resampling/look.hpp"
#include "page/resampling/turned_grid.hpp"

namespace frisket {
namespace {

constexpr int least_side = 128;  // fewer pixels hold too few periods

// How often answers of each kind were right within 5 % on photographs not used in tuning.
constexpr double both_axes = 0.97, supported = 0.93, no_trace = 0.97;
constexpr double most_ratio = 1.55;  // of the axes: pictures are hardly ever stretched by more

// Probabilities of a choice: below the first it is not told. Pictures that the weights were not fitted to are
// wrong twice as often as those left out in turn, hence more is asked than 1 % of wrong answers takes there.
// Axes that differ have paid for it already. Where there is detail as fine as the page's own pixels, more is
// asked.
constexpr double least_sure = 0.85, least_sure_of_unequal = 0.45, least_sure_beside_detail = 0.9;
constexpr double least_sure_of_jpeg = 0.8;  // of a page that was
constexpr double most_sure = 0.99;
constexpr double likely_none = 0.9;  // no enlargement, if there is detail besides

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
  const Choice own = choose(guesses_of(other, other));
  const bool agrees = own.probability >= least_sure && agree(own.x, factor, 0.03);
  if (!agrees && (own.none < likely_none || other.fine_detail > 1.5 * other.calm_detail))
    return unknown("its two axes contradict each other");
  return enlarged(factor, factor, supported, "its pixels are repeated on a regular grid");
}

/// What was enlarged by a factor lies on the grid of half of it as well, but not on that of twice as much. So
/// where the latter leaves a dip too, the choice may be half of the truth.
bool may_be_half(const Choice& choice, const std::vector<Guess>& guesses) {
  constexpr double near = 0.012,
                   dip = 0.7;  // of right choices, twice the factor had 0.88 and more on the CI's
  return std::ranges::any_of(guesses, [&](const Guess& guess) {
    return (agree(guess.factor, 2.0 * choice.x, near) && guess.x.fit.dip < dip) ||
           (agree(guess.factor, 2.0 * choice.y, near) && guess.y.fit.dip < dip);
  });
}

/// The answer where pixels are mixes of a coarser grid; empty where nothing shows that they are.
std::optional<Resampling> from_mixed(const std::vector<Guess>& guesses, bool has_page_detail) {
  const Choice choice = choose(guesses);
  if (choice.none < likely_none && may_be_half(choice, guesses))
    return unknown("it shows traces of enlarging, but by one factor or by twice as much");
  const double usual = agree(choice.x, choice.y, 0.03) ? least_sure : least_sure_of_unequal;
  if (choice.probability >= (has_page_detail ? least_sure_beside_detail : usual))
    return enlarged(choice.x, choice.y, std::min(choice.probability, most_sure), mixes(choice.kernel));
  if (choice.none >= likely_none) return std::nullopt;
  return unknown("it shows traces that may be of enlarging, but not by how much");
}

constexpr const char* hidden_by_jpeg = "the page was saved as JPEG, which hides the traces of scaling";

/// True for factors that the blocks of 8 px of a page that was JPEG cannot have made.
bool outlives_jpeg(const Resampling& told) {
  const auto is_block = [](double factor) {
    const double tooth = 8.0 / factor;
    return factor < 1.35 || std::abs(tooth - std::round(tooth)) < 0.03 * tooth;
  };
  return told.factor_x && told.confidence >= least_sure_of_jpeg && !is_block(*told.factor_x) &&
         !is_block(*told.factor_y);
}

/// Two clear block grids of one pitch: the picture was enlarged, but by 1, 2 or 4 times what the pitch says.
bool is_scaled_jpeg(const AxisEvidence& x, const AxisEvidence& y) {
  return agree(x.grid.factor, y.grid.factor, 0.015) && std::min(x.grid.score, y.grid.score) > 0.9 &&
         std::max(x.grid.score, y.grid.score) > 1.1 && x.grid.factor >= least_enlargement;
}

/// An axis with less has been smoothed by something, if not by enlarging; times rounding.
constexpr double least_detail = 1.5;

/// True where one colour fills most of the line along a side.
bool is_blank(const cv::Mat& line) {
  constexpr double most = 0.7, alike = 2.0;  // share of the line; levels
  cv::Mat1b level = line.reshape(1, 1).clone(), same;
  std::nth_element(level.begin(), level.begin() + level.cols / 2, level.end());
  cv::inRange(line.reshape(1, 1), level(0, level.cols / 2) - alike, level(0, level.cols / 2) + alike, same);
  return cv::countNonZero(same) > most * level.cols;
}

/// True for a picture that touches its box in a few places only: it lies turned, or is cut out freely.
bool is_free_in_its_box(const cv::Mat& rgb) {
  constexpr int inset = 1;  // the outermost pixels may be mixed with what lies beside
  cv::Mat1b green;
  cv::extractChannel(rgb, green, 1);
  return is_blank(green.row(inset)) && is_blank(green.row(green.rows - 1 - inset)) &&
         is_blank(green.col(inset).clone()) && is_blank(green.col(green.cols - 1 - inset).clone());
}

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

/// Milliseconds that were measured for looking along the axes and for a turned grid, and for each guess.
int work_of(const std::vector<Guess>& guesses) {
  constexpr double looking = 16.0, guess = 1.3;
  return static_cast<int>(looking + guess * static_cast<double>(guesses.size()));
}

/// The answer of an upright picture whose pixels are not repeated, else of a turned one.
Resampling from_guesses(const std::vector<Guess>& guesses, const AxisEvidence& x, const AxisEvidence& y,
                        const cv::Mat1f& luma, const PageHistory& history) {
  Resampling mixed = from_mixed(guesses, x.has_page_detail() || y.has_page_detail()).value_or(Resampling{});
  if (history.was_jpeg) return outlives_jpeg(mixed) ? mixed : unknown(hidden_by_jpeg);
  if (mixed.factor_x) return mixed;
  Resampling upright = mixed.why.empty() ? none_found(x, y) : mixed;
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
  const PictureLook look = look_at_picture(rgb);
  const AxisEvidence &x = look.x, &y = look.y;
  Resampling told;
  std::vector<Guess> guesses;
  if (x.repeated && y.repeated) {
    told = from_repeated(*x.repeated, *y.repeated);
  } else if (x.repeated || y.repeated) {
    told = from_one_repeated(x.repeated ? *x.repeated : *y.repeated, x.repeated ? y : x);
  } else {
    guesses = guesses_of(x, y);
    told = from_guesses(guesses, x, y, look.luma, history);
  }
  if (told.as_fine_as_page && is_free_in_its_box(rgb))
    told = unknown("it lies turned or is cut out freely, so that its edges pass for detail");
  told.work = work_of(guesses);
  return told;
}

}  // namespace frisket
