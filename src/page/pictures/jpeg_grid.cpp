#include "page/pictures/jpeg_grid.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace frisket {
namespace {

constexpr int side = 8;           // a JPEG block
constexpr int tiles = 4;          // a side: a grid over one picture is not one over the page
constexpr int most_blocks = 250;  // looked at in a tile
constexpr int least_blocks = 12;  // busy ones a tile needs to be asked
constexpr double busy = 3.0;      // grey levels, standard deviation: flat blocks tell nothing
constexpr float nought = 1.0F;  // a coefficient that was 0 in the file is below this after rounding to 8 bits
constexpr double least_found =
    3.0;  // blocks' worth of coefficients beside the grid that are no noughts, to ask
constexpr double least_share = 0.5;  // of those coefficients that are noughts on the grid

/// Share of the high coefficients of a block that are nought.
double noughts(const cv::Mat1b& grey, int x, int y) {
  cv::Mat1f block;
  grey(cv::Rect(x, y, side, side)).convertTo(block, CV_32F);
  cv::dct(block, block);
  int count = 0, none = 0;
  for (int v = 0; v < side; ++v)
    for (int u = std::max(0, side - v); u < side; ++u) {
      ++count;
      none += std::abs(block(v, u)) < nought;
    }
  return none / static_cast<double>(count);
}

/// Of the coefficients that are no noughts half a block beside the grid, the share that are noughts on it;
/// empty where the tile holds too little to tell.
std::optional<double> emptied_share(const cv::Mat1b& grey, const cv::Rect& tile) {
  const int columns = tile.width / side - 1, rows = tile.height / side - 1;
  const int stride = std::max(1, columns * rows / (4 * most_blocks));
  double on_grid = 0.0, beside = 0.0;
  int count = 0;
  for (int i = 0; i < columns * rows && count < most_blocks; i += stride) {
    const int x = (tile.x / side + i % columns) * side, y = (tile.y / side + i / columns) * side;
    cv::Scalar mean, deviation;
    cv::meanStdDev(grey(cv::Rect(x, y, side, side)), mean, deviation);
    if (deviation[0] < busy) continue;
    on_grid += noughts(grey, x, y);
    beside += noughts(grey, x + side / 2, y + side / 2);
    ++count;
  }
  const double found = count - beside;
  return count < least_blocks || found < least_found ? std::nullopt
                                                     : std::optional((on_grid - beside) / found);
}

}  // namespace

bool was_jpeg(const cv::Mat& rgb) {
  int asked = 0, yes = 0;
  cv::Mat1b grey;
  for (int i = 0; i < tiles; ++i)
    for (int j = 0; j < tiles; ++j) {
      const cv::Rect tile(rgb.cols * j / tiles, rgb.rows * i / tiles, rgb.cols / tiles, rgb.rows / tiles);
      const cv::Point corner(tile.x / side * side, tile.y / side * side);  // of the page's grid, before it
      cv::cvtColor(rgb({corner, tile.br()}), grey, cv::COLOR_RGB2GRAY);
      const std::optional<double> found = emptied_share(grey, tile - corner);
      asked += found.has_value();
      yes += found.value_or(0.0) > least_share;
    }
  return asked > 0 && 4 * yes >= 3 * asked;
}

}  // namespace frisket
