#include "page/zones.hpp"

namespace frisket {
namespace {

/// Provisional labels and which of them turned out to be one.
class Unions {
 public:
  int add() {
    parents_.push_back(static_cast<int>(parents_.size()));
    return parents_.back();
  }
  int root(int label) {
    while (parents_[label] != label) label = parents_[label] = parents_[parents_[label]];
    return label;
  }
  /// The smaller label stays, so that final numbers follow raster order.
  int unite(int a, int b) {
    a = root(a), b = root(b);
    if (a > b) std::swap(a, b);
    return parents_[b] = a;
  }
  /// Numbers the roots from 0 in order; `root(label)` maps through the result.
  std::vector<int> numbered() {
    std::vector<int> numbers(parents_.size());
    int next = 0;
    for (std::size_t i = 0; i < parents_.size(); ++i)
      numbers[i] = parents_[i] == static_cast<int>(i) ? next++ : numbers[root(static_cast<int>(i))];
    return numbers;
  }

 private:
  std::vector<int> parents_;
};

/// The curvature a ramp may have: rounding of two steps to whole levels.
constexpr int ramp_rounding = 2;

/// Does the colour change between b and c as it does between a and b, and between c and d?
bool on_ramp(const cv::Vec3b& a, const cv::Vec3b& b, const cv::Vec3b& c, const cv::Vec3b& d) {
  for (int i = 0; i < 3; ++i) {
    const int before = b[i] - a[i], here = c[i] - b[i], after = d[i] - c[i];
    if (std::abs(here - before) > ramp_rounding || std::abs(after - here) > ramp_rounding) return false;
  }
  return true;
}

class Joiner {
 public:
  Joiner(const cv::Mat& rgb, ZoneRule rule) : rgb_(rgb), rule_(rule) {}

  bool left(int x, int y) const {
    const cv::Vec3b* row = rgb_.ptr<cv::Vec3b>(y);
    const int step = colour_step(row[x - 1], row[x]);
    if (step <= rule_.step) return true;
    return step <= rule_.ramp_step && x >= 2 && x + 1 < rgb_.cols &&
           on_ramp(row[x - 2], row[x - 1], row[x], row[x + 1]);
  }
  bool above(int x, int y) const {
    const cv::Vec3b &here = rgb_.at<cv::Vec3b>(y, x), &up = rgb_.at<cv::Vec3b>(y - 1, x);
    const int step = colour_step(up, here);
    if (step <= rule_.step) return true;
    return step <= rule_.ramp_step && y >= 2 && y + 1 < rgb_.rows &&
           on_ramp(rgb_.at<cv::Vec3b>(y - 2, x), up, here, rgb_.at<cv::Vec3b>(y + 1, x));
  }

 private:
  const cv::Mat& rgb_;
  ZoneRule rule_;
};

void measure(const cv::Mat& rgb, ZoneMap& map) {
  struct Sums {
    double r = 0, g = 0, b = 0;
    int left, top, right, bottom;
  };
  std::vector<Sums> sums(map.zones.size(), Sums{0, 0, 0, rgb.cols, rgb.rows, -1, -1});
  for (int y = 0; y < rgb.rows; ++y) {
    const cv::Vec3b* row = rgb.ptr<cv::Vec3b>(y);
    const int* labels = map.label[y];
    const bool edge_row = y == 0 || y == rgb.rows - 1;
    for (int x = 0; x < rgb.cols; ++x) {
      Sums& s = sums[labels[x]];
      Zone& zone = map.zones[labels[x]];
      ++zone.area;
      s.r += row[x][0], s.g += row[x][1], s.b += row[x][2];
      s.left = std::min(s.left, x), s.right = std::max(s.right, x);
      s.top = std::min(s.top, y), s.bottom = y;
      if (edge_row || x == 0 || x == rgb.cols - 1) ++zone.canvas_contact;
    }
  }
  for (std::size_t i = 0; i < sums.size(); ++i) {
    const Sums& s = sums[i];
    Zone& zone = map.zones[i];
    const double n = static_cast<double>(zone.area);
    zone.colour =
        cv::Vec3f(static_cast<float>(s.r / n), static_cast<float>(s.g / n), static_cast<float>(s.b / n));
    zone.box = cv::Rect(cv::Point(s.left, s.top), cv::Point(s.right + 1, s.bottom + 1));
  }
}

}  // namespace

ZoneMap label_zones(const cv::Mat& rgb, ZoneRule rule) {
  ZoneMap map;
  map.label.create(rgb.size());
  Unions unions;
  const Joiner joined(rgb, rule);
  for (int y = 0; y < rgb.rows; ++y) {
    int* labels = map.label[y];
    const int* labels_above = y > 0 ? map.label[y - 1] : nullptr;
    for (int x = 0; x < rgb.cols; ++x) {
      const bool left = x > 0 && joined.left(x, y);
      const bool above = labels_above && joined.above(x, y);
      if (left && above)
        labels[x] =
            labels[x - 1] == labels_above[x] ? labels[x - 1] : unions.unite(labels[x - 1], labels_above[x]);
      else
        labels[x] = left ? labels[x - 1] : above ? labels_above[x] : unions.add();
    }
  }
  const std::vector<int> numbers = unions.numbered();
  for (int y = 0; y < rgb.rows; ++y)
    for (int* label = map.label[y]; label != map.label[y] + rgb.cols; ++label) *label = numbers[*label];
  int count = 0;
  for (const int number : numbers) count = std::max(count, number + 1);
  map.zones.resize(static_cast<std::size_t>(count));
  measure(rgb, map);
  return map;
}

}  // namespace frisket
