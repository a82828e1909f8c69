#include "page/zones/label_map.hpp"
#include "page/zones/on_all_cores.hpp"

#include <cassert>
#include <mutex>

namespace frisket {

LabelMap::LabelMap(cv::Size size, int none, std::size_t runs)
    : rows(size.height), cols(size.width), none_(none) {
  runs_.reserve(runs);
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

void LabelMap::paint(const cv::Rect& area, const cv::Mat1b& mask, int label) {
  LabelMap changed(size(), none_);
  std::vector<int> dense(static_cast<std::size_t>(cols));
  for (int y = 0; y < rows; ++y) {
    if (y < area.y || y >= area.br().y) {
      changed.add_row(row(y));
      continue;
    }
    write(y, 0, cols, dense.data());
    const std::uint8_t* painted = mask[y - area.y];
    for (int x = 0; x < area.width; ++x)
      if (painted[x] != 0) dense[static_cast<std::size_t>(area.x + x)] = label;
    changed.add_row(dense.data());
  }
  *this = std::move(changed);
}

void LabelMap::add_rows(const LabelMap& map) {
  assert(begins_.size() + static_cast<std::size_t>(map.rows) <= static_cast<std::size_t>(rows) + 1);
  const std::size_t before = runs_.size();
  runs_.insert(runs_.end(), map.runs_.begin(), map.runs_.end());
  for (std::size_t y = 1; y < map.begins_.size(); ++y) begins_.push_back(before + map.begins_[y]);
}

void LabelMap::renumber(std::span<const int> number, int none) {
  none_ = none;
  std::size_t kept = 0, at = 0;
  for (std::size_t y = 1; y < begins_.size(); ++y) {
    const std::size_t first_of_row = kept;
    for (; at < begins_[y]; ++at) {
      Run run = runs_[at];
      run.label = number[static_cast<std::size_t>(run.label)];
      if (run.label == none) continue;
      if (kept > first_of_row && runs_[kept - 1].end == run.begin && runs_[kept - 1].label == run.label)
        runs_[kept - 1].end = run.end;
      else
        runs_[kept++] = run;
    }
    begins_[y] = kept;
  }
  runs_.resize(kept);
}

LabelMap renumbered(LabelMap map, std::span<const int> number, int none) {
  map.renumber(number, none);
  return map;
}

cv::Vec3d colour_sum_of_many(const cv::Vec3b* begin, const cv::Vec3b* end) {
  const cv::Mat row(1, static_cast<int>(end - begin), CV_8UC3, const_cast<cv::Vec3b*>(begin));
  const cv::Scalar sum = cv::sum(row);
  return {sum[0], sum[1], sum[2]};
}

std::vector<cv::Vec3d> colour_sums(const cv::Mat& rgb, const LabelMap& map, int first, int last) {
  constexpr int band_rows = 256;
  std::vector<cv::Vec3d> sums(static_cast<std::size_t>(last - first));
  std::mutex adding;
  on_all_cores((rgb.rows + band_rows - 1) / band_rows, [&](int band) {
    std::vector<cv::Vec3d> part(sums.size());
    for (int y = band * band_rows; y < std::min(rgb.rows, (band + 1) * band_rows); ++y) {
      const cv::Vec3b* row = rgb.ptr<cv::Vec3b>(y);
      for (const Run& run : map.row(y))
        if (run.label >= first && run.label < last)
          part[static_cast<std::size_t>(run.label - first)] += colour_sum(row + run.begin, row + run.end);
    }
    const std::lock_guard lock(adding);  // sums of whole numbers are the same in any order
    for (std::size_t i = 0; i < sums.size(); ++i) sums[i] += part[i];
  });
  return sums;
}

}  // namespace frisket
