#include "page/grounds/smooth_ground.hpp"

#include <algorithm>
#include <cstdlib>
#include <functional>
#include <numeric>

namespace frisket {
namespace {

constexpr int tile_side = 256;  // pixels
constexpr int most_bend = 1;    // grey levels, of a straight ramp that was rounded

std::uint8_t bends(int before, int here, int after) {
  return std::abs(before - 2 * here + after) > most_bend;
}

}  // namespace

SmoothGround::SmoothGround(const cv::Mat1b& grey, int block)
    : grey_(grey),
      reaches_{1, block / 4, block / 2},
      tiles_((grey.cols + tile_side - 1) / tile_side, (grey.rows + tile_side - 1) / tile_side),
      rough_(static_cast<std::size_t>(tiles_.area())) {}

void SmoothGround::mark_bends(const cv::Rect& part, int reach, cv::Mat1b& rough) const {
  const int first = std::max(part.x, reach), last = std::min(part.br().x, grey_.cols - reach);
  for (int y = part.y; y < part.br().y; ++y) {
    const std::uint8_t* row = grey_[y];
    std::uint8_t* marks = rough[y - part.y] - part.x;
    for (int x = first; x < last; ++x) marks[x] |= bends(row[x - reach], row[x], row[x + reach]);
    if (y < reach || y + reach >= grey_.rows) continue;
    const std::uint8_t *above = grey_[y - reach], *below = grey_[y + reach];
    for (int x = part.x; x < part.br().x; ++x) marks[x] |= bends(above[x], row[x], below[x]);
  }
}

const cv::Mat1b& SmoothGround::tile(int row, int column) {
  cv::Mat1b& rough = rough_[static_cast<std::size_t>(row * tiles_.width + column)];
  if (rough.empty()) {
    const cv::Rect part = cv::Rect(column * tile_side, row * tile_side, tile_side, tile_side) &
                          cv::Rect(cv::Point(), grey_.size());
    rough = cv::Mat1b::zeros(part.size());
    for (const int reach : reaches_) mark_bends(part, reach, rough);
  }
  return rough;
}

std::vector<double> SmoothGround::rough_shares(const cv::Rect& box, bool rows) {
  std::vector<int> counts(static_cast<std::size_t>(rows ? box.height : box.width), 0);
  for (int i = box.y / tile_side; i * tile_side < box.br().y; ++i)
    for (int j = box.x / tile_side; j * tile_side < box.br().x; ++j) {
      const cv::Point corner(j * tile_side, i * tile_side);
      const cv::Mat1b& rough = tile(i, j);
      const cv::Rect part = (box - corner) & cv::Rect(cv::Point(), rough.size());
      const cv::Point start = part.tl() + corner - box.tl();
      for (int y = 0; y < part.height; ++y) {
        const std::uint8_t* marks = rough[part.y + y] + part.x;
        if (rows)
          counts[static_cast<std::size_t>(start.y + y)] += std::accumulate(marks, marks + part.width, 0);
        else
          std::transform(marks, marks + part.width, counts.begin() + start.x, counts.begin() + start.x,
                         std::plus{});
      }
    }
  std::vector<double> shares;
  for (const int count : counts) shares.push_back(count / static_cast<double>(rows ? box.width : box.height));
  return shares;
}

}  // namespace frisket
