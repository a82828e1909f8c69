#pragma once

#include "page/zones/label_map.hpp"

namespace frisket {

/// Every so many pixels, along and down, it is asked what lies as many farther on: seams between two fields
/// are narrower.
constexpr int contact_step = 3;

/// Calls `use(a, b, times)` for labels that lie side by side along a row.
template <class Use>
void contacts_along(std::span<const Run> row, Use&& use) {
  for (std::size_t i = 0; i < row.size(); ++i) {
    // Of each run the last pixel that is asked may meet another.
    const int from = (row[i].end - 1) / contact_step * contact_step, to = from + contact_step;
    if (from < row[i].begin) continue;
    for (std::size_t k = i + 1; k < row.size() && row[k].begin <= to; ++k)
      if (to < row[k].end && row[i].label != row[k].label) use(row[i].label, row[k].label, 1);
  }
}

/// The same for a row and one below it, of which the last columns are not asked.
template <class Use>
void contacts_down(std::span<const Run> row, std::span<const Run> below, int columns, Use&& use) {
  const auto asked_before = [](int x) { return (x + contact_step - 1) / contact_step; };
  for (std::size_t i = 0, k = 0; i < row.size() && k < below.size();) {
    const int begin = std::max(row[i].begin, below[k].begin);
    const int end = std::min({row[i].end, below[k].end, columns});
    if (row[i].label != below[k].label && begin < end && asked_before(begin) < asked_before(end))
      use(row[i].label, below[k].label, asked_before(end) - asked_before(begin));
    row[i].end < below[k].end ? ++i : ++k;
  }
}

/// Calls `use(a, b, times)` for labels of a map that lie side by side, `a` to the left of `b` or above.
template <class Use>
void each_contact(const LabelMap& map, Use&& use) {
  for (int y = 0; y + contact_step < map.rows; y += contact_step) {
    contacts_along(map.row(y), use);
    contacts_down(map.row(y), map.row(y + contact_step), map.cols - contact_step, use);
  }
}

}  // namespace frisket
