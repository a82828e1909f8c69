#pragma once

#include <cstdint>
#include <vector>

#include "page/grounds/grounds.hpp"
#include "page/zones/run_components.hpp"

namespace frisket {

/// Pixels of row `y` from `begin` up to `end`.
struct RowRun {
  int y = 0, begin = 0, end = 0;
};

/// A connected part of a mask by itself.
struct Piece {
  cv::Rect box;              ///< pixels
  std::int64_t area = 0;     ///< pixels
  std::vector<RowRun> runs;  ///< in raster order
  bool is_ink = false;       ///< surely ink: what cast a shadow, or stood in ringing

  /// 255 where the piece is, of the size of its box, with `margin` pixels of 0 round it.
  cv::Mat1b mask(int margin = 0) const;
};

/// The 8-connected pieces of a mask, in raster order of their first pixels, without dust of one or two
/// pixels; positions count from `origin`.
std::vector<Piece> pieces_of(cv::Size size, const MaskRow& mask, cv::Point origin);

/// The same of what is not ground in `area` of `rgb`, free of the shadows they cast and, on lossy pages, of
/// ringing. `mask` counts from the corner of `area`, the pieces from that of `rgb`.
std::vector<Piece> clear_pieces_of(const cv::Mat& rgb, const cv::Rect& area, const MaskRow& mask,
                                   const Scale& scale);

}  // namespace frisket
