#include "page/grounds/lattice.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <vector>

#include "page/zones/on_all_cores.hpp"
#include "page/zones/zones.hpp"

namespace frisket {
namespace {

constexpr int least_turns = 12;            // of the two colours along the canvas edge
constexpr std::size_t most_colours = 64;   // along the canvas edge: a photograph has more
constexpr double px_per_mm_looked_at = 4;  // periods of half a millimetre and more are seen
constexpr double window_mm = 40.0;
constexpr int least_side = 16;                             // px of those
constexpr float same_lossless = 6.0F, same_lossy = 20.0F;  // levels, of pixels of one colour
constexpr float between_lossy = 32.0F;  // levels, beside the line between the colours: chroma is coarse
constexpr float least_contrast = 8.0F, least_contrast_lossy = 12.0F;  // levels, of the two colours
constexpr double least_share = 0.6;  // of that part, of the two colours: a photograph has more colours
constexpr double of_origin = 0.4;    // correlation: what hangs together with no displacement at all
constexpr double least_peak = 0.5;   // correlation after a whole period
// Of the highest correlation; the nearest so good is a period, the others are its multiples.
constexpr double nearly_best = 0.85, as_good = 0.97;
constexpr float level = 0.01F;  // correlation

std::vector<cv::Vec3b> pixels_round(const cv::Mat& rgb) {
  std::vector<cv::Vec3b> pixels;
  for (int x = 0; x < rgb.cols; ++x) pixels.push_back(rgb.at<cv::Vec3b>(0, x));
  for (int y = 1; y < rgb.rows; ++y) pixels.push_back(rgb.at<cv::Vec3b>(y, rgb.cols - 1));
  for (int x = rgb.cols - 2; x >= 0; --x) pixels.push_back(rgb.at<cv::Vec3b>(rgb.rows - 1, x));
  for (int y = rgb.rows - 2; y > 0; --y) pixels.push_back(rgb.at<cv::Vec3b>(y, 0));
  return pixels;
}

/// The colours of the stretches of one colour, of two pixels and more, along the edge of `rgb`.
std::vector<cv::Vec3f> stretches_round(const cv::Mat& rgb, float same) {
  const std::vector<cv::Vec3b> pixels = pixels_round(rgb);
  std::vector<cv::Vec3f> stretches;
  for (std::size_t begin = 0, end = 0; begin < pixels.size(); begin = end) {
    while (end < pixels.size() && colour_step(cv::Vec3f(pixels[end]), cv::Vec3f(pixels[begin])) <= same)
      ++end;
    if (end - begin >= 2) stretches.push_back(pixels[begin + (end - begin) / 2]);
  }
  return stretches;
}

/// Two colours, and how often they take turns.
struct Turns {
  cv::Vec3f one, other;
  int times = 0;
};

/// Those that most often take turns along the edge of `rgb`.
Turns turns_round(const cv::Mat& rgb, const Scale& scale) {
  const float same = scale.lossy ? same_lossy : same_lossless;
  struct Colour {
    cv::Vec3f sum;
    float count = 0;
    cv::Vec3f mean() const { return sum / count; }
  };
  std::vector<Colour> colours;
  std::map<std::pair<std::size_t, std::size_t>, int> turns;
  std::optional<std::size_t> last;
  for (const cv::Vec3f& stretch : stretches_round(rgb, same)) {
    auto at = std::ranges::find_if(colours,
                                   [&](const Colour& c) { return colour_step(c.mean(), stretch) <= same; });
    if (at == colours.end()) {
      if (colours.size() == most_colours) continue;
      at = colours.insert(colours.end(), Colour{});
    }
    at->sum += stretch, ++at->count;
    const auto now = static_cast<std::size_t>(at - colours.begin());
    if (last && *last != now) ++turns[std::minmax(*last, now)];
    last = now;
  }
  const auto most = std::ranges::max_element(turns, {}, [](const auto& entry) { return entry.second; });
  if (most == turns.end()) return {};
  return {colours[most->first.first].mean(), colours[most->first.second].mean(), most->second};
}

/// The same of the whole page, where the lattice may pass by the very edge.
Turns turns_along_canvas(const cv::Mat& rgb, const Scale& scale) {
  Turns best;
  for (const double inset_mm : {0.0, 0.7, 1.4, 2.1, 2.8}) {
    const int inset = static_cast<int>(scale.px(inset_mm));
    if (2 * inset + 2 > std::min(rgb.rows, rgb.cols)) break;
    const Turns turns =
        turns_round(rgb(cv::Rect(inset, inset, rgb.cols - 2 * inset, rgb.rows - 2 * inset)), scale);
    if (turns.times > best.times) best = turns;
  }
  return best;
}

double share_of_both(const cv::Mat1b& shares) {
  return static_cast<double>(cv::countNonZero(shares <= Lattice::whole)) /
         static_cast<double>(shares.total());
}

/// The part of `shares`, `side` px at most, that has most of both colours.
cv::Rect busiest(const cv::Mat1b& shares, int side) {
  cv::Mat1b one, other;
  cv::inRange(shares, 0, Lattice::whole / 4, one);
  cv::inRange(shares, Lattice::whole - Lattice::whole / 4, Lattice::whole, other);
  one.setTo(1, one), other.setTo(1, other);
  cv::Mat1i ones, others;
  cv::integral(one, ones, CV_32S);
  cv::integral(other, others, CV_32S);
  const cv::Rect all({}, shares.size());
  const auto count = [](const cv::Mat1i& sums, const cv::Rect& r) {
    return sums(r.br()) - sums(r.y, r.br().x) - sums(r.br().y, r.x) + sums(r.tl());
  };
  cv::Rect best;
  int most = 0;
  for (int y = 0; y == 0 || y + side / 2 < shares.rows; y += side / 2)
    for (int x = 0; x == 0 || x + side / 2 < shares.cols; x += side / 2) {
      const cv::Rect window = cv::Rect(x, y, side, side) & all;
      const int fewer = std::min(count(ones, window), count(others, window));
      if (fewer > most) most = fewer, best = window;
    }
  return best;
}

/// The part of the page that has most of both colours, seen in one pixel of many; none where it has more of
/// others.
std::optional<cv::Rect> place_to_look(const cv::Mat& rgb, const Lattice& lattice, int shrunk,
                                      const Scale& scale) {
  const int step = 3 * shrunk;
  cv::Mat few;
  cv::resize(rgb, few, {(rgb.cols + step - 1) / step, (rgb.rows + step - 1) / step}, 0, 0, cv::INTER_NEAREST);
  const cv::Mat1b shares = lattice.shares(few, scale);
  const cv::Rect window = busiest(shares, static_cast<int>(scale.px(window_mm)) / step);
  if (window.empty() || share_of_both(shares(window)) < least_share) return std::nullopt;
  return cv::Rect(window.tl() * step, window.size() * step) & cv::Rect({}, rgb.size());
}

/// Sum of the products of `a` with itself moved by each displacement up to its own size; none is at (0, 0),
/// those to the left and up at the far end.
cv::Mat1f with_itself(const cv::Mat1f& a) {
  cv::Mat1f padded(cv::getOptimalDFTSize(2 * a.rows), cv::getOptimalDFTSize(2 * a.cols), 0.0F), result;
  a.copyTo(padded(cv::Rect({}, a.size())));
  cv::Mat spectrum;
  cv::dft(padded, spectrum, 0, a.rows);
  cv::mulSpectrums(spectrum, spectrum, spectrum, 0, true);
  cv::dft(spectrum, result, cv::DFT_INVERSE | cv::DFT_SCALE | cv::DFT_REAL_OUTPUT);
  return result;
}

/// The correlation of a part of the page with itself, moved by up to half of its size each way.
class Correlation {
 public:
  explicit Correlation(const cv::Mat1b& shares) {
    cv::Mat1b valid;
    cv::inRange(shares, 0, Lattice::whole, valid);
    cv::Mat1f values, weights;
    shares.convertTo(values, CV_32F);
    valid.convertTo(weights, CV_32F, 1.0 / 255);
    values -= cv::mean(shares, valid)[0];
    values = values.mul(weights);
    const cv::Mat1f products = with_itself(values), pairs = with_itself(weights);
    reach_ = {shares.cols / 2, shares.rows / 2};
    map_.create(2 * reach_.y + 1, 2 * reach_.x + 1);
    const double variance = products(0, 0) / std::max(1.0F, pairs(0, 0));
    const double fewest = 0.1 * pairs(0, 0);
    for (int y = -reach_.y; y <= reach_.y; ++y)
      for (int x = -reach_.x; x <= reach_.x; ++x) {
        const int py = (y + products.rows) % products.rows, px = (x + products.cols) % products.cols;
        const double n = pairs(py, px);
        map_(y + reach_.y, x + reach_.x) =
            n < fewest || variance <= 0 ? -1.0F : static_cast<float>(products(py, px) / n / variance);
      }
  }

  /// False where there are none.
  bool find_periods(Lattice& lattice) const {
    const auto first = nearest_period();
    if (!first) return false;
    const auto second = across(*first);
    if (!second) return false;
    lattice.periods = {refined(*first), refined(*second)};
    lattice.stripes = !falls_towards(*second);
    return true;
  }

 private:
  float at(int x, int y) const { return map_(y + reach_.y, x + reach_.x); }
  bool holds(double x, double y, int margin = 1) const {
    return std::abs(x) <= reach_.x - margin && std::abs(y) <= reach_.y - margin;
  }

  /// Once the correlation has fallen, the nearest displacement at which it is nearly as high as anywhere.
  std::optional<cv::Point> nearest_period() const {
    cv::Mat1b high;
    cv::compare(map_, of_origin, high, cv::CMP_GE);
    cv::floodFill(high, reach_, 0);
    double highest = 0;
    cv::minMaxLoc(map_, nullptr, &highest, nullptr, nullptr, high);
    if (highest < least_peak) return std::nullopt;
    std::optional<cv::Point> nearest;
    for (int y = 0; y < reach_.y; ++y)
      for (int x = 1 - reach_.x; x < reach_.x; ++x)
        if (high(y + reach_.y, x + reach_.x) != 0 && at(x, y) >= nearly_best * highest &&
            (!nearest || x * x + y * y < nearest->dot(*nearest)))
          nearest = cv::Point(x, y);
    return nearest ? std::optional(uphill(*nearest)) : std::nullopt;
  }

  /// From the flank of a peak or of a ridge to its top, and no farther: along a ridge all is nearly level.
  cv::Point uphill(cv::Point place) const {
    while (holds(place.x, place.y)) {
      const cv::Point higher = highest_beside(place);
      if (at(higher.x, higher.y) < at(place.x, place.y) + level) break;
      place = higher;
    }
    return place;
  }

  cv::Point highest_beside(cv::Point place) const {
    cv::Point best = place;
    for (int dy = -1; dy <= 1; ++dy)
      for (int dx = -1; dx <= 1; ++dx)
        if (at(place.x + dx, place.y + dy) > at(best.x, best.y)) best = place + cv::Point(dx, dy);
    return best;
  }

  /// At a wide angle to `first`, the nearest displacement that is nearly as good as the best one about as
  /// long: of stripes a short one along them.
  std::optional<cv::Point> across(cv::Point first) const {
    const double length = std::hypot(first.x, first.y);
    std::vector<cv::Point> places;
    float highest = 0;
    for (int y = 0; y < reach_.y; ++y)
      for (int x = 1 - reach_.x; x < reach_.x; ++x) {
        const cv::Point place(x, y);
        const double other = std::hypot(x, y);
        if (other < px_per_mm_looked_at || other > 1.6 * length ||
            std::abs(first.dot(place)) > 0.5 * length * other)
          continue;
        places.push_back(place);
        if (other >= 0.7 * length) highest = std::max(highest, at(x, y));
      }
    if (highest < least_peak) return std::nullopt;
    std::erase_if(places, [&](cv::Point p) { return at(p.x, p.y) < as_good * highest; });
    return *std::ranges::min_element(places, {}, [](cv::Point p) { return p.dot(p); });
  }

  /// Is the correlation lower half way there?
  bool falls_towards(cv::Point place) const {
    return at(place.x / 2, place.y / 2) < nearly_best * at(place.x, place.y);
  }

  /// To a fraction of a pixel, from the peaks at its multiples. Along stripes there are none, and need not
  /// be.
  cv::Vec2d refined(cv::Point period) const {
    const cv::Vec2d coarse(period.x, period.y);
    cv::Vec2d exact = coarse;
    for (int times = 1; holds(times * exact[0], times * exact[1], 3); times *= 2) {
      const cv::Point place(cvRound(times * exact[0]), cvRound(times * exact[1]));
      const cv::Point peak = highest_beside(highest_beside(place));
      if (at(peak.x, peak.y) < least_peak) break;
      exact = cv::Vec2d(peak.x + vertex(at(peak.x - 1, peak.y), at(peak.x, peak.y), at(peak.x + 1, peak.y)),
                        peak.y + vertex(at(peak.x, peak.y - 1), at(peak.x, peak.y), at(peak.x, peak.y + 1))) /
              times;
      if (cv::norm(exact - coarse) > 1.5) return coarse;
    }
    return exact;
  }

  /// Where a parabola through three neighbours has its top, from the middle one.
  static double vertex(float before, float here, float after) {
    const double curvature = before - 2.0 * here + after;
    return curvature < 0 ? std::clamp(0.5 * (before - after) / curvature, -0.5, 0.5) : 0.0;
  }

  cv::Point reach_;
  cv::Mat1f map_;
};

}  // namespace

cv::Mat1b Lattice::shares(const cv::Mat& rgb, const Scale& scale) const {
  const cv::Vec3f way = other - one;
  const float square = way.dot(way), slack = scale.lossy ? between_lossy : same_lossless;
  cv::Mat1b shares(rgb.size());
  on_all_cores(rgb.rows, [&](int y) {
    for (int x = 0; x < rgb.cols; ++x) {
      const cv::Vec3f from = cv::Vec3f(rgb.at<cv::Vec3b>(y, x)) - one;
      const float share = std::clamp(from.dot(way) / square, 0.0F, 1.0F);
      shares(y, x) =
          colour_step(from, share * way) <= slack ? cv::saturate_cast<std::uint8_t>(share * whole) : neither;
    }
  });
  return shares;
}

std::optional<Lattice> find_lattice(const cv::Mat& rgb, const Scale& scale) {
  const Turns turns = turns_along_canvas(rgb, scale);
  if (turns.times < least_turns) return std::nullopt;
  Lattice lattice{turns.one, turns.other, {}, false};
  if (colour_step(lattice.one, lattice.other) < (scale.lossy ? least_contrast_lossy : least_contrast))
    return std::nullopt;
  const int shrunk = std::max(1, static_cast<int>(std::lround(scale.px_per_mm / px_per_mm_looked_at)));
  if (std::min(rgb.rows, rgb.cols) < least_side * shrunk) return std::nullopt;
  const auto window = place_to_look(rgb, lattice, shrunk, scale);
  if (!window) return std::nullopt;
  cv::Mat small;
  cv::resize(rgb(*window), small, window->size() / shrunk, 0, 0, cv::INTER_AREA);
  if (!Correlation(lattice.shares(small, scale)).find_periods(lattice)) return std::nullopt;
  const cv::Vec2d larger(double(window->width) / small.cols, double(window->height) / small.rows);
  for (cv::Vec2d& period : lattice.periods) period = period.mul(larger);
  return lattice;
}

}  // namespace frisket
