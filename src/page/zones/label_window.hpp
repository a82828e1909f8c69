#pragma once

#include <array>
#include <vector>

#include "page/zones/label_map.hpp"

namespace frisket {

/// The labels of five rows, y - 2 to y + 2, one a pixel, and two pixels of none beyond each end of a row.
class LabelWindow {
 public:
  /// Begins before row `first`.
  explicit LabelWindow(const LabelMap& map, int first = 0) : map_(map) {
    for (std::vector<int>& row : rows_) row.assign(static_cast<std::size_t>(map.cols) + 4, map.none());
    for (int y = std::max(0, first - 2); y < first + 2; ++y) load(y);
  }
  /// Goes to row `y`: the first one, then the next each time.
  void move_to(int y) { load(y + 2); }
  int operator()(int y, int x) const { return rows_[index(y)][static_cast<std::size_t>(x + 2)]; }

 private:
  static std::size_t index(int y) { return static_cast<std::size_t>(y + 5) % 5; }
  void load(int y) {
    std::vector<int>& row = rows_[index(y)];
    if (y < map_.rows)
      map_.write(y, 0, map_.cols, row.data() + 2);
    else
      std::ranges::fill(row, map_.none());
  }

  const LabelMap& map_;
  std::array<std::vector<int>, 5> rows_;
};

}  // namespace frisket
