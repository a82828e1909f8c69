#include "page/zones/contour.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace frisket {
namespace {

/// A side of a box walked along: `at(t, depth)` is the pixel `depth` px inside the outermost row (negative:
/// outside) at position t.
struct SideWalk {
  cv::Rect box;
  Edge edge;

  int length() const { return is_vertical(edge) ? box.height : box.width; }
  cv::Point at(int t, int depth) const {
    switch (edge) {
      case Edge::top:
        return {box.x + t, box.y + depth};
      case Edge::bottom:
        return {box.x + t, box.y + box.height - 1 - depth};
      case Edge::left:
        return {box.x + depth, box.y + t};
      case Edge::right:
        return {box.x + box.width - 1 - depth, box.y + t};
    }
    return {};
  }
};

constexpr int ground_reach = 3;    // px outside where the ground is clear of anti-aliasing
constexpr int ink_reach = 3;       // px inside where the ink is
constexpr int least_contrast = 8;  // levels
constexpr double faint = 0.08;     // coverage below this outside the box is taken for ground

/// Coverage of the outermost row and of the row outside it, summed, at each place where the shape reaches it.
std::vector<double> coverages(const cv::Mat& rgb, const SideWalk& side,
                              const std::function<bool(int, int)>& inside) {
  const cv::Rect canvas({}, rgb.size());
  std::vector<double> found;
  for (int t = 0; t < side.length(); ++t) {
    const cv::Point outermost = side.at(t, 0);
    if (!inside(outermost.x, outermost.y)) continue;
    const cv::Point outside = side.at(t, -ground_reach);
    if (!canvas.contains(outside)) continue;
    const cv::Vec3b ground = rgb.at<cv::Vec3b>(outside);
    int contrast = 0, channel = 0;
    for (int depth = 0; depth <= ink_reach; ++depth) {
      const cv::Point at = side.at(t, depth);
      if (!canvas.contains(at) || !inside(at.x, at.y)) break;
      for (int i = 0; i < 3; ++i)
        if (const int step = rgb.at<cv::Vec3b>(at)[i] - ground[i]; std::abs(step) > std::abs(contrast))
          contrast = step, channel = i;
    }
    if (std::abs(contrast) < least_contrast) continue;
    const auto coverage = [&](int depth) {
      const double step = rgb.at<cv::Vec3b>(side.at(t, depth))[channel] - ground[channel];
      return std::clamp(step / contrast, 0.0, 1.0);
    };
    const double beyond = coverage(-1);
    found.push_back(coverage(0) + (beyond > faint ? beyond : 0.0));
  }
  return found;
}

/// How far the side lies outside the inner border of the outermost row, px.
double reach(std::vector<double> coverage, int side_length) {
  if (coverage.empty()) return 1.0;
  std::ranges::sort(coverage);
  const bool straight = coverage.size() >= 20 && static_cast<double>(coverage.size()) > 0.6 * side_length;
  if (straight) return coverage[coverage.size() / 2];
  const std::size_t top = std::max<std::size_t>(1, coverage.size() / 4);
  double sum = 0;
  for (std::size_t i = coverage.size() - top; i < coverage.size(); ++i) sum += coverage[i];
  return sum / static_cast<double>(top);
}

}  // namespace

PixelRect exact_box(const cv::Mat& rgb, const cv::Rect& box,
                    const std::function<bool(int x, int y)>& inside) {
  const auto reach_of = [&](Edge edge) {
    const SideWalk side{box, edge};
    return reach(coverages(rgb, side, inside), side.length()) - 1.0;
  };
  const double left = box.x - reach_of(Edge::left), top = box.y - reach_of(Edge::top);
  const double right = box.x + box.width + reach_of(Edge::right);
  const double bottom = box.y + box.height + reach_of(Edge::bottom);
  return {left, top, std::max(0.0, right - left), std::max(0.0, bottom - top)};
}

}  // namespace frisket
