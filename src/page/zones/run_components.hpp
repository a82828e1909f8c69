#pragma once

#include <cstdint>
#include <functional>
#include <vector>

#include "page/zones/label_map.hpp"

namespace frisket {

/// A connected part of a mask.
struct RunComponent {
  cv::Rect box;           ///< pixels
  std::int64_t area = 0;  ///< pixels
};

/// Which part each pixel belongs to, or -1. Numbers are in raster order of the parts' first pixels, from 0.
struct RunComponents {
  LabelMap label;
  std::vector<RunComponent> parts;
};

/// Gives the runs of row `y` of a mask, from left to right, apart from each other; their labels do not count.
using MaskRow = std::function<void(int y, std::vector<Run>& runs)>;

/// Which neighbours of a pixel are joined to it.
enum class Joined { by_sides, by_corners_too };

/// The connected parts of a mask (He, Chao and Suzuki, A run-based two-scan labeling algorithm, IEEE TIP
/// 17(5), 2008).
RunComponents connect(cv::Size size, const MaskRow& mask, Joined joined = Joined::by_corners_too);

/// A mask row by row from one byte a pixel, 0 outside.
MaskRow rows_of(const cv::Mat1b& mask);

/// What lies between the runs of a row.
void gaps_between(std::span<const Run> runs, int width, std::vector<Run>& gaps);

}  // namespace frisket
