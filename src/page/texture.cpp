#include "page/texture.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <numeric>

namespace frisket {
namespace {

constexpr double block_mm =
    16.0 / 300.0 * 25.4;           // small enough for a picture of 8 mm, large enough to count levels
constexpr int least_block_px = 8;  // fewer pixels do not make a histogram

/// What a block's pixels are like.
struct BlockStatistics {
  int levels = 0;       ///< grey levels that occur
  int range = 0;        ///< brightest minus darkest
  double dominant = 0;  ///< share of the commonest level
  double rough = 0;     ///< share of pixels where the grey is not smooth within rounding
  double jumps = 0;     ///< share of the rough ones that look like the edge of a drawn shape
  double uneven = 0;    ///< share of means of 2 x 2 pixels that do not lie on a smooth surface
  double wavy = 0;      ///< the same for means of 4 x 4 pixels
};

/// The page halved: sums of 2 x 2 pixels, which round less than their mean would.
cv::Mat1s halved(const cv::Mat1s& grey) {
  cv::Mat1s sums(grey.rows / 2, grey.cols / 2);
  for (int y = 0; y < sums.rows; ++y) {
    const short* upper = grey.ptr<short>(2 * y);
    const short* lower = grey.ptr<short>(2 * y + 1);
    for (int x = 0; x < sums.cols; ++x)
      sums(y, x) = static_cast<short>(upper[2 * x] + upper[2 * x + 1] + lower[2 * x] + lower[2 * x + 1]);
  }
  return sums;
}

/// The page at full, half and quarter size; a level of grey counts 1, 4 and 16.
struct Scales {
  cv::Mat1b full;
  cv::Mat1s half, quarter;

  explicit Scales(const cv::Mat1b& grey) : full(grey) {
    cv::Mat1s wide;
    grey.convertTo(wide, CV_16S);
    half = halved(wide);
    quarter = halved(half);
  }
};

/// Second difference along one axis, or 0 at the canvas edge.
template <class Grey>
int bend(const Grey& grey, int y, int x, int dy, int dx) {
  if (y < dy || x < dx || y + dy >= grey.rows || x + dx >= grey.cols) return 0;
  return std::abs(grey(y - dy, x - dx) - 2 * grey(y, x) + grey(y + dy, x + dx));
}

constexpr int smooth_bend =
    2;  // a ramp rounded to 8 bits bends by 1 at most, a translucent one over another by 2
constexpr int least_jump = 8;  // an edge of type or line art, anti-aliased; or a quarter of the block's range

/// Share of the pixels of a reduced page that bend by a grey level or more.
double bent_share(const cv::Mat1s& reduced, int factor, const cv::Rect& block) {
  const cv::Rect part(block.x / factor, block.y / factor, block.width / factor, block.height / factor);
  int bent = 0;
  for (int y = part.y; y < part.y + part.height; ++y)
    for (int x = part.x; x < part.x + part.width; ++x)
      bent += bend(reduced, y, x, 0, 1) + bend(reduced, y, x, 1, 0) >= factor * factor;
  return bent / static_cast<double>(part.area());
}

BlockStatistics measure_block(const Scales& page, const cv::Rect& block) {
  const cv::Mat1b& grey = page.full;
  std::array<int, 256> histogram{};
  std::array<int, 512> bends{};
  for (int y = block.y; y < block.y + block.height; ++y) {
    for (int x = block.x; x < block.x + block.width; ++x) {
      ++histogram[grey(y, x)];
      const int most = std::max(bend(grey, y, x, 0, 1), bend(grey, y, x, 1, 0));
      ++bends[static_cast<std::size_t>(most)];
    }
  }
  BlockStatistics block_is;
  int least = 255, most = 0, commonest = 0;
  for (int level = 0; level < 256; ++level) {
    const int count = histogram[static_cast<std::size_t>(level)];
    if (count == 0) continue;
    ++block_is.levels;
    least = std::min(least, level);
    most = level;
    commonest = std::max(commonest, count);
  }
  block_is.range = most - least;
  block_is.dominant = commonest / static_cast<double>(block.area());
  const auto bent_from = [&](int least_bend) {
    return std::accumulate(bends.begin() + least_bend, bends.end(), 0);
  };
  const int rough = bent_from(smooth_bend + 1);
  const int jumps = bent_from(std::max(least_jump, block_is.range / 4));
  block_is.rough = rough / static_cast<double>(block.area());
  block_is.jumps = rough ? jumps / static_cast<double>(rough) : 0.0;
  block_is.uneven = bent_share(page.half, 2, block);
  block_is.wavy = bent_share(page.quarter, 4, block);
  return block_is;
}

// Thresholds found on rendered pages of photographs, type, tables, gradients and patterns.
bool is_textured(const BlockStatistics& block) {
  if (block.rough <= 0.65 && block.jumps >= 0.5)
    return false;  // type on a gradient: smooth ground, hard edges
  if (block.levels >= 10 && block.dominant < 0.25 && block.rough >= 0.04)
    return true;  // type and line art have a paper or an ink level, a drawn gradient is smooth
  return block.jumps < 0.2 && block.levels >= 5 && block.dominant < 0.4 && block.uneven >= 0.42 &&
         block.wavy >= 0.5;  // out of focus, but not drawn
}

bool is_soft(const BlockStatistics& block) {
  return block.levels >= 3 && block.range < 70 && block.dominant < 0.85;
}

/// True where every step inside the block runs along whole columns and whole rows: a picture enlarged by
/// repeating its pixels looks drawn, pixel by pixel, but nothing drawn has ten levels on one grid.
bool is_repeated(const cv::Mat1b& grey, const cv::Rect& block) {
  int same_columns = 0, same_rows = 0;
  const cv::Mat1b part = grey(block);
  for (int x = 1; x < part.cols; ++x) {
    bool same = true;
    for (int y = 0; y < part.rows && same; ++y) same = part(y, x) == part(y, x - 1);
    same_columns += same;
  }
  if (same_columns < (part.cols - 1) / 2 || same_columns > part.cols - 3) return false;
  for (int y = 1; y < part.rows; ++y)
    same_rows += std::equal(part.ptr(y), part.ptr(y) + part.cols, part.ptr(y - 1));
  return same_rows >= (part.rows - 1) / 2 && same_rows <= part.rows - 3;
}

/// Repeated pixels are looked for in squares of 2 x 2 blocks, which hold enough of them up to a factor of 9.
void mark_repeated(const Scales& page, TextureMap& map) {
  const int side = 2 * map.block;
  for (int i = 0; i + 1 < map.textured.rows; ++i) {
    for (int j = 0; j + 1 < map.textured.cols; ++j) {
      const cv::Rect square(j * map.block, i * map.block, side, side);
      if (map.textured(i, j) || !is_repeated(page.full, square)) continue;
      const BlockStatistics is = measure_block(page, square);
      if (is.levels >= 10 && is.dominant < 0.25) map.textured(cv::Rect(j, i, 2, 2)) = 255;
    }
  }
}

}  // namespace

TextureMap map_texture(const cv::Mat1b& grey, double dpi) {
  const Scales page(grey);
  TextureMap map;
  map.block = std::max(least_block_px, 2 * static_cast<int>(std::lround(block_mm / 25.4 * dpi / 2.0)));
  map.textured = cv::Mat1b::zeros(grey.rows / map.block, grey.cols / map.block);
  map.soft = map.textured.clone();
  for (int i = 0; i < map.textured.rows; ++i) {
    for (int j = 0; j < map.textured.cols; ++j) {
      const BlockStatistics is =
          measure_block(page, cv::Rect(j * map.block, i * map.block, map.block, map.block));
      if (is_textured(is)) map.textured(i, j) = 255;
      if (is_soft(is)) map.soft(i, j) = 255;
    }
  }
  mark_repeated(page, map);
  return map;
}

}  // namespace frisket
