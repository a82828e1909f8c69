#include "page/label_map.hpp"

#include <cassert>
#include <cstring>

namespace frisket {

LabelMap::LabelMap(cv::Size size, int none) : rows(size.height), cols(size.width), none_(none) {
  begins_.reserve(static_cast<std::size_t>(rows) + 1);
}

int LabelMap::operator()(int y, int x) const {
  const std::span<const Run> runs = row(y);
  const auto after = std::ranges::upper_bound(runs, x, {}, &Run::begin);
  if (after == runs.begin()) return none_;
  const Run& run = *std::prev(after);
  return x < run.end ? run.label : none_;
}

void LabelMap::write(int y, int begin, int end, int* out) const {
  const std::span<const Run> runs = row(y);
  auto run = std::ranges::upper_bound(runs, begin, {}, &Run::end);
  int x = begin;
  for (; run != runs.end() && run->begin < end; ++run) {
    const int from = std::max(x, run->begin), to = std::min(end, run->end);
    out = std::fill_n(out, from - x, none_);
    out = std::fill_n(out, to - from, run->label);
    x = to;
  }
  std::fill_n(out, end - x, none_);
}

cv::Mat1i LabelMap::dense(const cv::Rect& area) const {
  cv::Mat1i labels(area.size());
  for (int y = 0; y < area.height; ++y) write(area.y + y, area.x, area.br().x, labels[y]);
  return labels;
}

void LabelMap::append(Run run) {
  if (run.label == none_ || run.begin >= run.end) return;
  const bool first_of_row = runs_.size() == begins_.back();
  if (!first_of_row && runs_.back().end == run.begin && runs_.back().label == run.label)
    runs_.back().end = run.end;
  else
    runs_.push_back(run);
}

void LabelMap::add_row(std::span<const Run> runs) {
  assert(begins_.size() <= static_cast<std::size_t>(rows));
  for (const Run& run : runs) append(run);
  begins_.push_back(runs_.size());
}

void LabelMap::add_row(const int* labels) {
  assert(begins_.size() <= static_cast<std::size_t>(rows));
  for (int x = 0; x < cols;) {
    const int begin = x, label = labels[x];
    while (x < cols && labels[x] == label) ++x;
    append({begin, x, label});
  }
  begins_.push_back(runs_.size());
}

void LabelMap::replace(const cv::Rect& area, const cv::Mat1i& labels) {
  LabelMap changed(size(), none_);
  std::vector<int> dense(static_cast<std::size_t>(cols));
  for (int y = 0; y < rows; ++y) {
    if (y < area.y || y >= area.br().y) {
      changed.add_row(row(y));
      continue;
    }
    write(y, 0, cols, dense.data());
    std::copy_n(labels[y - area.y], area.width, dense.data() + area.x);
    changed.add_row(dense.data());
  }
  *this = std::move(changed);
}

LabelMap renumbered(const LabelMap& map, const std::vector<int>& number, int none) {
  LabelMap changed(map.size(), none);
  std::vector<Run> runs;
  for (int y = 0; y < map.rows; ++y) {
    runs.assign(map.row(y).begin(), map.row(y).end());
    for (Run& run : runs) run.label = number[static_cast<std::size_t>(run.label)];
    changed.add_row(runs);
  }
  return changed;
}

namespace {

/// Sum of the pixels from `at` up to `end`. Most runs are long and mostly of one colour.
cv::Vec3d colour_sum(const cv::Vec3b* at, const cv::Vec3b* end) {
  constexpr std::ptrdiff_t block = 32;
  cv::Vec3i sum;
  for (; end - at >= block; at += block) {
    if (std::memcmp(at, at + 1, (block - 1) * sizeof *at) == 0) {
      sum += static_cast<int>(block) * cv::Vec3i(*at);
      continue;
    }
    for (const cv::Vec3b* pixel = at; pixel != at + block; ++pixel) sum += cv::Vec3i(*pixel);
  }
  for (; at != end; ++at) sum += cv::Vec3i(*at);
  return sum;
}

}  // namespace

std::vector<cv::Vec3d> colour_sums(const cv::Mat& rgb, const LabelMap& map, int first, int last) {
  std::vector<cv::Vec3d> sums(static_cast<std::size_t>(last - first));
  for (int y = 0; y < rgb.rows; ++y) {
    const cv::Vec3b* row = rgb.ptr<cv::Vec3b>(y);
    for (const Run& run : map.row(y)) {
      if (run.label < first || run.label >= last) continue;
      sums[static_cast<std::size_t>(run.label - first)] += colour_sum(row + run.begin, row + run.end);
    }
  }
  return sums;
}

}  // namespace frisket
