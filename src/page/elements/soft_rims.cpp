#include "page/elements/soft_rims.hpp"

#include <algorithm>
#include <array>
#include <cstdint>
#include <vector>

#include "page/zones/mask_edge.hpp"
#include "page/zones/row_joins.hpp"
#include "page/zones/sharpness.hpp"
#include "page/zones/zones.hpp"

namespace frisket {
namespace {

constexpr int soft_step = 8;               // levels from one pixel to the next
constexpr double least_soft_border = 0.1;  // of all of it: one mixed pixel beside ink is no shadow
constexpr int least_depth_px = 3;          // anti-aliasing is one or two pixels deep
constexpr double least_rim_share = 0.03;   // of the thing's pixels, at that depth
constexpr double least_left_share = 0.05;
constexpr double least_flat_share = 0.5;  // of what is left
constexpr double flat_mm = 0.6;  // side of a square of one colour: no shadow rises so slowly; ink is so flat

/// 255 where a pixel belongs to a square of one colour, else 0.
cv::Mat1b flat_ink(const cv::Mat& rgb, const Scale& scale) {
  const int side = scale.whole_px(flat_mm) | 1;  // odd: a square with a middle
  const cv::Mat square = cv::getStructuringElement(cv::MORPH_RECT, {side, side});
  cv::Mat highest, lowest, spread, flat;
  cv::dilate(rgb, highest, square);
  cv::erode(rgb, lowest, square);
  cv::subtract(highest, lowest, spread);
  cv::inRange(spread, cv::Scalar::all(0), cv::Scalar::all(0), flat);
  cv::dilate(flat, flat, square);
  return flat;
}

bool is_soft_step(const std::uint8_t* a, const std::uint8_t* b) {
  return std::abs(a[0] - b[0]) <= soft_step && std::abs(a[1] - b[1]) <= soft_step &&
         std::abs(a[2] - b[2]) <= soft_step;
}

/// The pixels of a thing that hang together with `first` in its very colour.
struct OneColour {
  std::vector<cv::Point> pixels;
  int border = 0, sharp = 0;  ///< steps out of it, and how many of them are large

  OneColour(const cv::Mat& rgb, const cv::Mat1b& thing, cv::Point first, cv::Mat1b& met) {
    const cv::Rect area({}, thing.size());
    const cv::Vec3b colour = rgb.at<cv::Vec3b>(first);
    met(first) = 255;
    pixels.push_back(first);
    for (std::size_t i = 0; i < pixels.size(); ++i)
      for (const cv::Point& way : four_ways) {
        const cv::Point next = pixels[i] + way;
        if (!area.contains(next)) continue;
        if (rgb.at<cv::Vec3b>(next) != colour) {
          ++border;
          sharp += !is_soft_step(rgb.ptr(next.y, next.x), colour.val);
        } else if (thing(next) != 0 && met(next) == 0) {
          met(next) = 255;
          pixels.push_back(next);
        }
      }
  }
};

/// Adds to the flat ink of a thing the strokes that go on from it, too thin for such a square: all that is of
/// one colour with it, if that turns sharply. A level of a shadow does not.
void add_strokes(const cv::Mat& rgb, const cv::Mat1b& thing, cv::Mat1b& flat) {
  cv::Mat1b met(thing.size(), std::uint8_t{0});
  for (int y = 0; y < flat.rows; ++y)
    for (int x = 0; x < flat.cols; ++x) {
      if (flat(y, x) == 0 || met(y, x) != 0) continue;
      const OneColour ink(rgb, thing, {x, y}, met);
      if (2 * ink.sharp < ink.border) continue;
      for (const cv::Point& at : ink.pixels) flat(at) = 255;
    }
}

/// Walks from the ground into a thing as long as the steps are small, but not into flat ink: along a nearly
/// straight border the mixed pixels rise to it in small steps, too.
class SoftWalk {
 public:
  SoftWalk(const cv::Mat& rgb, const cv::Mat1b& thing, const Scale& scale)
      : rgb_(rgb),
        thing_(thing),
        scale_(scale),
        padded_(thing.rows + 2, thing.cols + 2, ground),
        depth_(inside(padded_)) {
    depth_.setTo(0, thing);
  }

  void run() {
    for (int y = 0; y < thing_.rows; ++y) begin_in_row(y);
    if (static_cast<double>(front_.size()) <= least_soft_border * border_) return;
    const cv::Mat1b flat = keep_off_flat_ink();
    const auto row = static_cast<std::ptrdiff_t>(padded_.step),
               pixels = static_cast<std::ptrdiff_t>(rgb_.step);
    const std::array<Place, 4> ways{{{1, 3}, {-1, -3}, {row, pixels}, {-row, -pixels}}};
    std::vector<Place> next;
    for (int steps = 2; !front_.empty(); ++steps) {
      next.clear();
      const auto depth = static_cast<std::uint8_t>(std::min(steps, least_depth_px));
      for (const Place& from : front_)
        for (const Place& way : ways) {
          const Place to{from.depth + way.depth, from.pixel + way.pixel};
          if (padded_.data[to.depth] != 0 || !is_soft_step(rgb_.data + from.pixel, rgb_.data + to.pixel))
            continue;
          padded_.data[to.depth] = depth;
          next.push_back(to);
        }
      if (steps >= least_depth_px) deep_ += static_cast<int>(next.size());
      front_.swap(next);
    }
    depth_.setTo(0, flat);
  }

  /// Steps from the ground to each pixel that small steps lead to, `least_depth_px` for more; 0 for other
  /// pixels of the thing.
  const cv::Mat1b& depth() const { return depth_; }
  /// How many pixels lie `least_depth_px` or more deep.
  int deep() const { return deep_; }

 private:
  static constexpr std::uint8_t ground = 255;  ///< as a depth; there is some all round

  /// A pixel, as where it lies in memory.
  struct Place {
    std::ptrdiff_t depth, pixel;
  };

  static cv::Mat1b inside(const cv::Mat1b& padded) {
    return padded(cv::Rect(1, 1, padded.cols - 2, padded.rows - 2));
  }

  /// Bars the way into the thing's flat ink, and returns where that is.
  cv::Mat1b keep_off_flat_ink() {
    cv::Mat1b flat = flat_ink(rgb_, scale_);
    cv::bitwise_and(flat, thing_, flat);
    add_strokes(rgb_, thing_, flat);
    depth_.setTo(ground, flat);
    std::erase_if(front_, [&](const Place& at) { return padded_.data[at.depth] == ground; });
    return flat;
  }

  /// The pixels of the thing's border that a small step leads to.
  void begin_in_row(int y) {
    each_edge_pixel(thing_, y, edge_, [&](int x) {
      ++border_;
      const cv::Rect area({}, thing_.size());
      for (const cv::Point& way : four_ways)
        if (const cv::Point beside = cv::Point(x, y) + way;
            area.contains(beside) && thing_(beside) == 0 &&
            is_soft_step(rgb_.ptr(beside.y, beside.x), rgb_.ptr(y, x))) {
          depth_(y, x) = 1;
          front_.push_back({&depth_(y, x) - padded_.data, rgb_.ptr(y, x) - rgb_.data});
          break;
        }
    });
  }

  const cv::Mat& rgb_;
  const cv::Mat1b& thing_;
  const Scale& scale_;
  cv::Mat1b padded_, depth_;  ///< the one with a pixel of ground all round, the other without
  std::vector<std::uint8_t> edge_;
  std::vector<Place> front_;
  int border_ = 0;  ///< pixels
  int deep_ = 0;
};

struct Tally {
  int pixels = 0, deep = 0, left = 0, flat = 0;

  bool casts_a_shadow() const {
    return deep >= least_rim_share * pixels && left >= least_left_share * pixels &&
           flat >= least_flat_share * left;
  }
};

/// Counts the pixels that no small steps lead to, and those of them that are alike two and more of the four
/// beside them.
void count_left(const cv::Mat& rgb, const cv::Mat1b& thing, const cv::Mat1b& depth, Tally& tally) {
  constexpr ZoneRule alike{1};
  RowJoins joins(rgb, {{}, rgb.size()}, alike, 0);
  for (int y = 0; y < thing.rows; ++y) {
    joins.next();
    const std::uint8_t *left = joins.left().data(), *above = joins.above().data(),
                       *below = joins.below().data();
    for (int x = 0; x < thing.cols; ++x) {
      if (thing(y, x) == 0 || depth(y, x) != 0) continue;
      const int right = x + 1 < thing.cols ? left[x + 1] : 0;
      ++tally.left;
      tally.flat += left[x] + right + above[x] + below[x] >= 2;
    }
  }
}

}  // namespace

bool take_off_soft_rim(const cv::Mat& rgb, cv::Mat1b& thing, const Scale& scale) {
  SoftWalk walk(rgb, thing, scale);
  walk.run();
  if (walk.deep() == 0) return false;
  Tally tally;
  tally.pixels = cv::countNonZero(thing);
  tally.deep = walk.deep();
  if (tally.deep < least_rim_share * tally.pixels) return false;
  count_left(rgb, thing, walk.depth(), tally);
  if (!tally.casts_a_shadow()) return false;
  thing.setTo(0, walk.depth());
  return true;
}

}  // namespace frisket
