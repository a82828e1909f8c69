#pragma once

#include <cmath>
#include <map>
#include <vector>

#include "frisket/geometry.hpp"

namespace frisket {

/// Boxes kept by size and place, so that what lies near a box is found without looking at all the others: a
/// grid for each power of two, each box in the one whose cell is just larger than its longer side. With it a
/// hundred thousand specks cost no more each than a hundred do.
class BoxGrid {
 public:
  explicit BoxGrid(const std::vector<PixelRect>& boxes) {
    for (std::size_t i = 0; i < boxes.size(); ++i) {
      const PixelRect& box = boxes[i];
      const int level = std::ilogb(std::max({box.width, box.height, 1.0})) + 1;
      const double middle = box.y + box.height / 2;
      levels_[level][row_of(middle, std::ldexp(1.0, level))].push_back(
          {box.x + box.width / 2, static_cast<int>(i)});
    }
    for (auto& [level, rows] : levels_)
      for (auto& [row, entries] : rows) std::ranges::sort(entries, {}, &Entry::x);
  }

  /// Calls `visit(i)` for every box that may meet `window` and whose longer side is not below `least_side`
  /// (some that do neither are visited as well).
  template <class Visit>
  void near(const PixelRect& window, double least_side, Visit visit) const {
    for (const auto& [level, rows] : levels_) {
      const double cell = std::ldexp(1.0, level), half = cell / 2;
      if (cell < least_side) continue;
      const int last = row_of(window.bottom() + half, cell);
      for (auto row = rows.lower_bound(row_of(window.y - half, cell));
           row != rows.end() && row->first <= last; ++row)
        for (auto at = std::ranges::lower_bound(row->second, window.x - half, {}, &Entry::x);
             at != row->second.end() && at->x <= window.right() + half; ++at)
          visit(at->index);
    }
  }

 private:
  struct Entry {
    double x;  ///< of the box's middle
    int index;
  };
  static int row_of(double y, double cell) { return static_cast<int>(std::floor(y / cell)); }

  std::map<int, std::map<int, std::vector<Entry>>> levels_;
};

/// `box` with `across` more on its left and right, and `down` more above and below.
inline PixelRect grown(const PixelRect& box, double across, double down) {
  return {box.x - across, box.y - down, box.width + 2 * across, box.height + 2 * down};
}

inline PixelRect united(const PixelRect& a, const PixelRect& b) {
  const double left = std::min(a.x, b.x), top = std::min(a.y, b.y);
  return {left, top, std::max(a.right(), b.right()) - left, std::max(a.bottom(), b.bottom()) - top};
}

}  // namespace frisket
