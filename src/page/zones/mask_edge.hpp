#pragma once

#include <cstdint>
#include <cstring>
#include <vector>

#include "opencv.hpp"

namespace frisket {

/// Calls `use(x)` for the pixels of row `y` of `mask` (0 or 255) that have one of 0 above, below or beside,
/// and for those at the mask's own edge: few, of a thing as large as a picture.
template <class Use>
void each_edge_pixel(const cv::Mat1b& mask, int y, std::vector<std::uint8_t>& edge, Use&& use) {
  const int last = mask.cols - 1;
  const std::uint8_t* row = mask[y];
  edge.assign(row, row + mask.cols);
  if (y > 0 && y + 1 < mask.rows) {
    const std::uint8_t *up = mask[y - 1], *down = mask[y + 1];
    for (int x = 1; x < last; ++x)
      edge[static_cast<std::size_t>(x)] &=
          static_cast<std::uint8_t>(~(row[x - 1] & row[x + 1] & up[x] & down[x]));
  }
  for (int x = 0; x <= last; ++x) {
    const void* at = std::memchr(edge.data() + x, 255, static_cast<std::size_t>(last + 1 - x));
    if (at == nullptr) return;
    x = static_cast<int>(static_cast<const std::uint8_t*>(at) - edge.data());
    use(x);
  }
}

}  // namespace frisket
