#include "page/soft_rims.hpp"

#include <algorithm>
#include <array>
#include <cstdint>
#include <vector>

#include "page/zones.hpp"

namespace frisket {
namespace {

constexpr int soft_step = 8;              // levels from one pixel to the next
constexpr int least_depth_px = 3;         // anti-aliasing is one or two pixels deep
constexpr double least_rim_share = 0.03;  // of the thing's pixels, at that depth
constexpr double least_left_share = 0.05;
constexpr double least_flat_share = 0.5;  // of what is left

const std::array<cv::Point, 4>& ways() {
  static const std::array<cv::Point, 4> four{{{1, 0}, {-1, 0}, {0, 1}, {0, -1}}};
  return four;
}

/// Steps from the ground to each pixel that small steps lead to, `least_depth_px` for more; 0 elsewhere.
cv::Mat1b soft_depths(const cv::Mat& rgb, const cv::Mat1b& mask, int step) {
  const cv::Rect area({}, mask.size());
  cv::Mat1b depth(mask.size(), std::uint8_t{0});
  std::vector<cv::Point> front, next;
  const auto is_soft_step = [&](cv::Point a, cv::Point b) {
    return colour_step(rgb.at<cv::Vec3b>(a), rgb.at<cv::Vec3b>(b)) <= step;
  };
  for (int y = 0; y < mask.rows; ++y)
    for (int x = 0; x < mask.cols; ++x) {
      if (mask(y, x) == 0) continue;
      for (const cv::Point& way : ways())
        if (const cv::Point ground = cv::Point(x, y) + way;
            area.contains(ground) && mask(ground) == 0 && is_soft_step(ground, {x, y})) {
          depth(y, x) = 1;
          front.push_back({x, y});
          break;
        }
    }
  for (int steps = 2; !front.empty(); ++steps) {
    next.clear();
    for (const cv::Point& from : front)
      for (const cv::Point& way : ways()) {
        const cv::Point to = from + way;
        if (!area.contains(to) || mask(to) == 0 || depth(to) != 0 || !is_soft_step(from, to)) continue;
        depth(to) = static_cast<std::uint8_t>(std::min(steps, least_depth_px));
        next.push_back(to);
      }
    front.swap(next);
  }
  return depth;
}

bool is_flat(const cv::Mat& rgb, int x, int y, int tolerance) {
  int alike = 0;
  for (const cv::Point& way : ways()) {
    const cv::Point beside = cv::Point(x, y) + way;
    alike += cv::Rect({}, rgb.size()).contains(beside) &&
             colour_step(rgb.at<cv::Vec3b>(y, x), rgb.at<cv::Vec3b>(beside)) <= tolerance;
  }
  return alike >= 2;
}

struct Tally {
  int pixels = 0, deep = 0, left = 0, flat = 0;

  bool casts_a_shadow() const {
    return deep >= least_rim_share * pixels && left >= least_left_share * pixels &&
           flat >= least_flat_share * left;
  }
};

}  // namespace

bool take_off_soft_rim(const cv::Mat& rgb, cv::Mat1b& thing) {
  const cv::Mat1b depth = soft_depths(rgb, thing, soft_step);
  Tally tally;
  for (int y = 0; y < thing.rows; ++y)
    for (int x = 0; x < thing.cols; ++x)
      if (thing(y, x) != 0) ++tally.pixels, tally.deep += depth(y, x) >= least_depth_px;
  if (tally.deep < least_rim_share * tally.pixels) return false;
  for (int y = 0; y < thing.rows; ++y)
    for (int x = 0; x < thing.cols; ++x)
      if (thing(y, x) != 0 && depth(y, x) == 0) ++tally.left, tally.flat += is_flat(rgb, x, y, 1);
  if (!tally.casts_a_shadow()) return false;
  thing.setTo(0, depth);
  return true;
}

}  // namespace frisket
