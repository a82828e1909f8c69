#include "page/guides.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace frisket {
namespace {

constexpr double widest_mm = 0.71;  // 2 pt
constexpr double section_mm = 10.0;
constexpr double sections_share = 0.9;
constexpr double least_ink_share = 0.12;  // of a section: a dotted line has gaps
constexpr int least_contrast = 20;        // levels
constexpr double reach_mm = 0.5;          // of a guide from its place

struct Line {
  double position;  // px, its centre
  double width;     // px
};

/// Does the pixel stand out from both sides, the sides being alike?
bool stands_out(const cv::Vec3b& before, const cv::Vec3b& here, const cv::Vec3b& after) {
  for (int i = 0; i < 3; ++i) {
    const int left = here[i] - before[i], right = here[i] - after[i];
    if (std::abs(left) >= least_contrast && std::abs(right) >= least_contrast && (left > 0) == (right > 0) &&
        std::abs(left - right) <= std::max(std::abs(left), std::abs(right)) / 2)
      return true;
  }
  return false;
}

std::optional<Line> find_line(const cv::Mat& rgb, double position, bool vertical, double from, double to,
                              const Scale& scale) {
  const double reach = scale.px(reach_mm);
  const int across = vertical ? rgb.cols : rgb.rows, along = vertical ? rgb.rows : rgb.cols;
  const int side = scale.whole_px(widest_mm) + 1;
  const int first = std::max(side, static_cast<int>(std::floor(position - reach)));
  const int last = std::min(across - 1 - side, static_cast<int>(std::ceil(position + reach)));
  const int start = std::clamp(static_cast<int>(from), 0, along),
            end = std::clamp(static_cast<int>(to), 0, along);
  const int section = scale.whole_px(section_mm);
  if (first > last || end - start < section) return std::nullopt;

  const auto pixel = [&](int x, int t) {
    return vertical ? rgb.at<cv::Vec3b>(t, x) : rgb.at<cv::Vec3b>(x, t);
  };
  const int sections = (end - start) / section;
  std::vector<double> strength(static_cast<std::size_t>(last - first + 1));
  for (int x = first; x <= last; ++x) {
    std::vector<int> hits(static_cast<std::size_t>(sections));
    for (int t = start; t < start + sections * section; ++t)
      hits[(t - start) / section] += stands_out(pixel(x - side, t), pixel(x, t), pixel(x + side, t));
    const auto full = std::ranges::count_if(hits, [&](int n) { return n >= least_ink_share * section; });
    strength[x - first] = static_cast<double>(full) / sections;
  }
  const auto best = std::ranges::max_element(strength);
  if (*best < sections_share) return std::nullopt;
  const int peak = static_cast<int>(best - strength.begin());
  int low = peak, high = peak;
  while (low > 0 && strength[low - 1] >= sections_share) --low;
  while (high + 1 < static_cast<int>(strength.size()) && strength[high + 1] >= sections_share) ++high;
  if (high - low + 1 > side) return std::nullopt;
  return Line{first + (low + high + 1) / 2.0, static_cast<double>(high - low + 1)};
}

}  // namespace

std::vector<Guide> find_guides(const cv::Mat& rgb, const Placement& placement, const SideLayout& layout,
                               const Scale& scale) {
  const PixelRect& trim = placement.trim_px;
  std::vector<Guide> guides;
  const auto look = [&](double position, bool vertical, std::optional<Edge> edge, std::optional<int> fold) {
    const double from = vertical ? trim.y : trim.x, to = vertical ? trim.bottom() : trim.right();
    if (const auto line = find_line(rgb, position, vertical, from, to, scale))
      guides.push_back({vertical, vertical ? placement.x_of(line->position) : placement.y_of(line->position),
                        Length::from_mm(line->width / scale.px_per_mm), edge, fold});
  };
  look(trim.y, false, Edge::top, std::nullopt);
  look(trim.right(), true, Edge::right, std::nullopt);
  look(trim.bottom(), false, Edge::bottom, std::nullopt);
  look(trim.x, true, Edge::left, std::nullopt);
  int fold = 0;
  for (const Length at : layout.folds) look(placement.px_of_x(at), true, std::nullopt, ++fold);
  for (const Length at : layout.folds_y) look(placement.px_of_y(at), false, std::nullopt, ++fold);
  return guides;
}

bool lies_on(const Rect& box, const Guide& guide) {
  const Length slack = Length::from_mm(0.25);
  const Length low = guide.vertical ? box.left() : box.top(),
               high = guide.vertical ? box.right() : box.bottom();
  return low >= guide.position - guide.width - slack && high <= guide.position + guide.width + slack;
}

}  // namespace frisket
