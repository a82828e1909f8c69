#pragma once

#include <algorithm>
#include <cstddef>
#include <span>
#include <vector>

#include "opencv.hpp"

namespace frisket {

/// Pixels of one row from `begin` up to `end` that have one label.
struct Run {
  int begin = 0, end = 0;
  int label = 0;
  int length() const { return end - begin; }
  bool operator==(const Run&) const = default;
};

/// A label for every pixel of an area, kept as runs: what is labelled lies in large pieces, so that an A0
/// page needs a few megabytes. Pixels of label `none` are not stored.
class LabelMap {
 public:
  LabelMap() = default;
  /// An area of this size, to be filled row by row with add_row(). Where it is known how many runs there will
  /// be, `runs` spares the memory of growing.
  LabelMap(cv::Size size, int none, std::size_t runs = 0);

  cv::Size size() const { return {cols, rows}; }
  bool empty() const { return rows == 0; }
  std::size_t runs() const { return runs_.size(); }
  int none() const { return none_; }

  int operator()(int y, int x) const;
  int operator()(cv::Point at) const { return (*this)(at.y, at.x); }

  /// The runs of a row from left to right; they do not overlap.
  std::span<const Run> row(int y) const {
    const auto at = static_cast<std::size_t>(y);
    return {runs_.data() + begins_[at], begins_[at + 1] - begins_[at]};
  }
  /// Labels of the pixels of `area`, which lies inside.
  cv::Mat1i dense(const cv::Rect& area) const;
  /// Writes the labels of the pixels of a row from `begin` up to `end` to `out`.
  void write(int y, int begin, int end, int* out) const;

  /// Appends the next row; runs of `none` are left out, those that touch and are alike become one.
  void add_row(std::span<const Run> runs);
  /// The same from one label a pixel.
  void add_row(const int* labels);
  /// Appends all rows of a map as wide.
  void add_rows(const LabelMap& map);
  /// Makes `number[label]` of each label, and none of `none`, which is the map's from here on.
  void renumber(std::span<const int> number, int none);

  /// Gives the pixels of `area` where `mask`, of its size, is not 0 this label.
  void paint(const cv::Rect& area, const cv::Mat1b& mask, int label);
  int rows = 0, cols = 0;

 private:
  void append(Run run);

  int none_ = 0;
  std::vector<Run> runs_;
  std::vector<std::size_t> begins_{0};  ///< of each row in `runs_`, and the end
};

/// The same with `number[label]` for each label; `none` where it was none before.
LabelMap renumbered(LabelMap map, std::span<const int> number, int none);

/// colour_sum() of many pixels.
cv::Vec3d colour_sum_of_many(const cv::Vec3b* begin, const cv::Vec3b* end);

/// Sum of the colours of the pixels from `begin` up to `end`.
inline cv::Vec3d colour_sum(const cv::Vec3b* begin, const cv::Vec3b* end) {
  constexpr std::ptrdiff_t many = 64;
  if (end - begin >= many) return colour_sum_of_many(begin, end);
  int r = 0, g = 0, b = 0;
  for (; begin != end; ++begin) r += (*begin)[0], g += (*begin)[1], b += (*begin)[2];
  return {double(r), double(g), double(b)};
}

/// Sums of the colours of `rgb` over the pixels of each label from `first` up to `last`.
std::vector<cv::Vec3d> colour_sums(const cv::Mat& rgb, const LabelMap& map, int first, int last);

/// How many of the run's pixels, in row `y` of an area of this size, lie on its edge.
inline int pixels_on_edge(const Run& run, int y, cv::Size size) {
  if (y == 0 || y == size.height - 1) return run.length();
  return (run.begin == 0) + (run.end == size.width && (run.begin != 0 || run.length() > 1));
}

}  // namespace frisket
