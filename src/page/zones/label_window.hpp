#pragma once

#include <vector>

#include "page/zones/label_map.hpp"

namespace frisket {

/// The labels of the rows y - reach to y + reach, one a pixel, and `reach` pixels of none beyond each end of
/// a row.
class LabelWindow {
 public:
  /// Begins before row `first`.
  explicit LabelWindow(const LabelMap& map, int first = 0, int reach = 2)
      : map_(map), reach_(reach), rows_(static_cast<std::size_t>(2 * reach + 1)) {
    for (std::vector<int>& row : rows_)
      row.assign(static_cast<std::size_t>(map.cols + 2 * reach), map.none());
    for (int y = std::max(0, first - reach); y < first + reach; ++y) load(y);
  }
  /// Goes to row `y`: the first one, then the next each time.
  void move_to(int y) { load(y + reach_); }
  int operator()(int y, int x) const { return rows_[index(y)][static_cast<std::size_t>(x + reach_)]; }

 private:
  std::size_t index(int y) const {
    return static_cast<std::size_t>(y + static_cast<int>(rows_.size())) % rows_.size();
  }
  void load(int y) {
    std::vector<int>& row = rows_[index(y)];
    if (y < map_.rows)
      map_.write(y, 0, map_.cols, row.data() + reach_);
    else
      std::ranges::fill(row, map_.none());
  }

  const LabelMap& map_;
  int reach_;
  std::vector<std::vector<int>> rows_;
};

}  // namespace frisket
