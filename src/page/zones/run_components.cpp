#include "page/zones/run_components.hpp"

#include "page/zones/groups.hpp"

namespace frisket {
namespace {

/// Numbers the runs of a row by those above that they touch.
void number_row(std::span<const Run> above, std::vector<Run>& row, Joined joined, Groups& numbers) {
  const int reach = joined == Joined::by_corners_too ? 1 : 0;
  std::size_t upper = 0;
  for (Run& run : row) {
    run.label = -1;
    while (upper < above.size() && above[upper].end + reach <= run.begin) ++upper;
    for (std::size_t i = upper; i < above.size() && above[i].begin < run.end + reach; ++i)
      run.label = run.label < 0 ? numbers.root(above[i].label) : numbers.unite(run.label, above[i].label);
    if (run.label < 0) run.label = numbers.add();
  }
}

}  // namespace

RunComponents connect(cv::Size size, const MaskRow& mask, Joined joined) {
  LabelMap provisional(size, -1);
  Groups numbers;
  std::vector<Run> row;
  for (int y = 0; y < size.height; ++y) {
    row.clear();
    mask(y, row);
    number_row(y > 0 ? provisional.row(y - 1) : std::span<const Run>(), row, joined, numbers);
    provisional.add_row(row);
  }
  RunComponents found;
  found.label = LabelMap(size, -1, provisional.runs());
  std::vector<int> number(numbers.size(), -1);
  for (int y = 0; y < size.height; ++y) {
    row.assign(provisional.row(y).begin(), provisional.row(y).end());
    for (Run& run : row) {
      int& part = number[static_cast<std::size_t>(numbers.root(run.label))];
      if (part < 0) {
        part = static_cast<int>(found.parts.size());
        found.parts.emplace_back();
      }
      run.label = part;
      RunComponent& whole = found.parts[static_cast<std::size_t>(part)];
      whole.area += run.length();
      whole.box |= cv::Rect(run.begin, y, run.length(), 1);
    }
    found.label.add_row(row);
  }
  return found;
}

MaskRow rows_of(const cv::Mat1b& mask) {
  return [mask](int y, std::vector<Run>& runs) {
    const std::uint8_t* row = mask[y];
    for (int x = 0; x < mask.cols; ++x) {
      if (row[x] == 0) continue;
      const int begin = x;
      while (x < mask.cols && row[x] != 0) ++x;
      runs.push_back({begin, x, 0});
    }
  };
}

void gaps_between(std::span<const Run> runs, int width, std::vector<Run>& gaps) {
  int x = 0;
  for (const Run& run : runs) {
    if (run.begin > x) gaps.push_back({x, run.begin, 0});
    x = run.end;
  }
  if (x < width) gaps.push_back({x, width, 0});
}

}  // namespace frisket
