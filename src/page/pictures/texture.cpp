#include "page/pictures/texture.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <cstring>
#include <functional>
#include <numeric>
#include <vector>

namespace frisket {
namespace {

constexpr double block_mm =
    16.0 / 300.0 * 25.4;           // small enough for a picture of 8 mm, large enough to count levels
constexpr int least_block_px = 8;  // fewer pixels do not make a histogram

constexpr int least_levels = 3;         // of anything that is no type or line art
constexpr double most_dominant = 0.85;  // likewise

/// What a block's pixels are like.
struct BlockStatistics {
  int levels = 0;       ///< grey levels that occur
  int range = 0;        ///< brightest minus darkest
  double dominant = 0;  ///< share of the commonest level
  double rough = 0;     ///< share of pixels where the grey is not smooth within rounding
  int hardest = 0;      ///< the most that the grey bends at a pixel
  double jumps = 0;     ///< share of the rough ones that look like the edge of a drawn shape
  double uneven = 0;    ///< share of means of 2 x 2 pixels that do not lie on a smooth surface
  double wavy = 0;      ///< the same for means of 4 x 4 pixels
};

/// Halved: sums of 2 x 2 pixels, which round less than their mean would.
template <class Grey>
cv::Mat1s halved(const Grey& grey) {
  cv::Mat1s sums(grey.rows / 2, grey.cols / 2);
  for (int y = 0; y < sums.rows; ++y) {
    const auto *upper = grey[2 * y], *lower = grey[2 * y + 1];
    for (int x = 0; x < sums.cols; ++x)
      sums(y, x) = static_cast<short>(upper[2 * x] + upper[2 * x + 1] + lower[2 * x] + lower[2 * x + 1]);
  }
  return sums;
}

/// A part of the page at full, half and quarter size; a level of grey counts 1, 4 and 16.
struct Scales {
  cv::Mat1b full;
  cv::Mat1s half, quarter;

  explicit Scales(const cv::Mat1b& grey) : full(grey), half(halved(full)), quarter(halved(half)) {}
};

/// Calls `use` with the second differences along and across of each pixel of `part`; 0 at the canvas edge.
template <class Grey, class Use>
void each_bend(const Grey& grey, const cv::Rect& part, Use&& use) {
  for (int y = part.y; y < part.br().y; ++y) {
    const auto* row = grey[y];
    const bool has_rows = y > 0 && y + 1 < grey.rows;
    const auto *up = has_rows ? grey[y - 1] : row, *down = has_rows ? grey[y + 1] : row;
    for (int x = part.x; x < part.br().x; ++x) {
      const int along = x > 0 && x + 1 < grey.cols ? std::abs(row[x - 1] - 2 * row[x] + row[x + 1]) : 0;
      const int across = has_rows ? std::abs(up[x] - 2 * row[x] + down[x]) : 0;
      use(along, across);
    }
  }
}

constexpr int smooth_bend =
    2;  // a ramp rounded to 8 bits bends by 1 at most, a translucent one over another by 2
constexpr int least_jump = 8;  // an edge of type or line art, anti-aliased; or a quarter of the block's range

/// Share of the pixels of a reduced page that bend by a grey level or more.
double bent_share(const cv::Mat1s& reduced, int factor, const cv::Rect& block) {
  const cv::Rect part(block.x / factor, block.y / factor, block.width / factor, block.height / factor);
  int bent = 0;
  each_bend(reduced, part, [&](int along, int across) { bent += along + across >= factor * factor; });
  return bent / static_cast<double>(part.area());
}

void count_levels(const cv::Mat1b& block, BlockStatistics& block_is) {
  std::array<int, 256> histogram{};
  for (int y = 0; y < block.rows; ++y)
    for (const std::uint8_t* at = block[y]; at != block[y] + block.cols; ++at) ++histogram[*at];
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
  block_is.dominant = commonest / static_cast<double>(block.total());
}

bool is_of_one_level(const cv::Mat1b& block) {
  const std::size_t rest = static_cast<std::size_t>(block.cols) - 1;
  for (int y = 0; y < block.rows; ++y)
    if (block(y, 0) != block(0, 0) || std::memcmp(block[y], block[y] + 1, rest) != 0) return false;
  return true;
}

/// Nothing but its levels where they already say that it is type or line art on a flat ground.
BlockStatistics measure_block(const Scales& page, const cv::Rect& block) {
  BlockStatistics block_is;
  if (is_of_one_level(page.full(block))) return block_is;
  count_levels(page.full(block), block_is);
  if (block_is.levels < least_levels || block_is.dominant >= most_dominant) return block_is;
  int rough = 0, jumps = 0;
  const int jump = std::max(least_jump, block_is.range / 4);
  each_bend(page.full, block, [&](int along, int across) {
    const int bend = std::max(along, across);
    rough += bend > smooth_bend;
    block_is.hardest = std::max(block_is.hardest, bend);
    jumps += bend >= jump;
  });
  block_is.rough = rough / static_cast<double>(block.area());
  block_is.jumps = rough ? jumps / static_cast<double>(rough) : 0.0;
  block_is.uneven = bent_share(page.half, 2, block);
  block_is.wavy = bent_share(page.quarter, 4, block);
  return block_is;
}

constexpr double most_rough_ground = 0.65;  // of a block of type on smooth ground

// Thresholds found on rendered pages of photographs, type, tables, gradients and patterns.
bool is_textured(const BlockStatistics& block) {
  if (block.rough <= most_rough_ground && block.jumps >= 0.5)
    return false;  // type on a gradient: smooth ground, hard edges
  if (block.levels >= 10 && block.dominant < 0.25 && block.rough >= 0.04)
    return true;  // type and line art have a paper or an ink level, a drawn gradient is smooth
  return block.jumps < 0.2 && block.levels >= 5 && block.dominant < 0.4 && block.uneven >= 0.42 &&
         block.wavy >= 0.5;  // out of focus, but not drawn
}

bool is_lettered(const BlockStatistics& block) {
  constexpr int least_hard = 24;  // grey levels: more than soft pictures and grain bend by
  return block.rough < most_rough_ground && block.hardest >= least_hard;
}

bool may_be_soft(const BlockStatistics& block) {
  return block.levels >= least_levels && block.dominant < most_dominant && block.hardest < least_jump;
}

/// True where the grey levels of a line go up and down again.
bool turns(const std::uint8_t* at, std::size_t step, int count) {
  bool rises = false, falls = false;
  for (int i = 1; i < count; ++i, at += step) {
    rises |= at[step] > at[0];
    falls |= at[step] < at[0];
  }
  return rises && falls;
}

/// True where any channel bends as at an edge of type: green alone does not show all of it on a colour.
bool has_hard_edge(const cv::Mat& part) {
  std::vector<cv::Mat1b> channels;
  cv::split(part, channels);
  return std::ranges::any_of(channels, [](const cv::Mat1b& channel) {
    int hardest = 0;
    each_bend(channel, {{}, channel.size()}, [&](int along, int across) {
      hardest = std::max({hardest, along, across});
    });
    return hardest >= least_jump;
  });
}

/// A drawn gradient goes one way all along a line of a block, but where it turns; the grain of a picture that
/// is out of focus, or the rounding of the pixels that it was enlarged from, goes both ways all over it.
bool is_restless(const cv::Mat1b& grey) {
  for (int y = 0; y < grey.rows; ++y)
    if (turns(grey[y], 1, grey.cols)) return true;
  for (int x = 0; x < grey.cols; ++x)
    if (turns(grey[0] + x, grey.step1(), grey.rows)) return true;
  return false;
}

/// Pixels that differ from the one above.
int changes(const cv::Mat1b& part, int y) {
  return part.cols -
         std::transform_reduce(part[y], part[y] + part.cols, part[y - 1], 0, std::plus{}, std::equal_to{});
}

/// True where the rows of `part` come in groups of equal ones, and the steps between groups go most of the
/// way along: the rows of an upright gradient that leans a little differ too, in a pixel here and there.
bool repeats_rows(const cv::Mat1b& part) {
  int same = 0, changed = 0;
  for (int y = 1; y < part.rows; ++y) {
    const int changes_here = changes(part, y);
    same += changes_here == 0;
    changed += changes_here;
  }
  const int steps = part.rows - 1 - same;
  return same >= (part.rows - 1) / 2 && steps >= 2 && 4 * changed >= steps * part.cols;
}

/// True where every step inside the block runs along whole columns and whole rows: a picture enlarged by
/// repeating its pixels looks drawn, pixel by pixel, but nothing drawn has ten levels on one grid.
bool is_repeated(const cv::Mat1b& grey, const cv::Rect& block) {
  const cv::Mat1b part = grey(block);
  return repeats_rows(part) && repeats_rows(cv::Mat1b(part.t()));
}

/// Repeated pixels are looked for in squares of 2 x 2 blocks, which hold enough of them up to a factor of 9.
/// `grey` begins `top` rows down the page; row `i` of blocks and the next.
void mark_repeated(const cv::Mat1b& grey, int top, int i, TextureMap& map) {
  const int side = 2 * map.block;
  for (int j = 0; j + 1 < map.textured.cols; ++j) {
    const cv::Rect square(j * map.block, i * map.block - top, side, side);
    if (map.textured(i, j) || !is_repeated(grey, square)) continue;
    BlockStatistics is;
    count_levels(grey(square), is);
    if (is.levels >= 10 && is.dominant < 0.25) map.textured(cv::Rect(j, i, 2, 2)) = 255;
  }
}

constexpr int strip_blocks = 16;  // rows of blocks judged at a time: halved pages need memory
constexpr int margin = 8;         // pixels looked at beyond the blocks

}  // namespace

TextureMapper::TextureMapper(const cv::Mat& page, double dpi) : page_(page) {
  map_.block = std::max(least_block_px, 2 * static_cast<int>(std::lround(block_mm / 25.4 * dpi / 2.0)));
  map_.textured = cv::Mat1b::zeros(page.rows / map_.block, page.cols / map_.block);
  map_.restless = map_.textured.clone();
  map_.lettered = map_.textured.clone();
}

bool TextureMapper::judge_next(int rows) {
  const int last = std::min(map_.textured.rows, judged_ + strip_blocks);
  if (judged_ == last || rows < std::min(page_.rows, last * map_.block + margin)) return false;
  judge(judged_, last);
  judged_ = last;
  return true;
}

TextureMap TextureMapper::finish() {
  while (judge_next(page_.rows)) {
  }
  map_.lettered.setTo(0, map_.textured);  // hard edges among texture are of the picture
  return std::move(map_);
}

/// The rows of blocks from `first` up to `last`. The row of blocks above is looked at too, with a part of the
/// next, and whole fours of pixels, so that they are halved as the whole page would be.
void TextureMapper::judge(int first, int last) {
  const int top = std::max(0, (first - 1) * map_.block / 4 * 4);
  cv::Mat1b grey;
  cv::extractChannel(page_.rowRange(top, std::min(page_.rows, last * map_.block + margin)), grey,
                     page_.channels() / 2);
  const Scales part(grey);
  for (int i = first; i < last; ++i)
    for (int j = 0; j < map_.textured.cols; ++j) {
      const cv::Rect block(j * map_.block, i * map_.block - top, map_.block, map_.block);
      const BlockStatistics is = measure_block(part, block);
      if (is_textured(is))
        map_.textured(i, j) = 255;
      else if (may_be_soft(is) && is_restless(grey(block)) &&
               !has_hard_edge(page_(block + cv::Point(0, top))))
        map_.restless(i, j) = 255;
      if (is_lettered(is)) map_.lettered(i, j) = 255;
    }
  for (int i = std::max(0, first - 1); i + 1 < last; ++i) mark_repeated(grey, top, i, map_);
}

}  // namespace frisket
