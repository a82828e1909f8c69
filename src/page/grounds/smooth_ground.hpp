#pragma once

#include <vector>

#include "opencv.hpp"

namespace frisket {

/// Where a page is exactly flat or exactly smooth, as only drawn grounds are: paper, fields and gradients. A
/// gradient rounded to 8 bits bends by one level at most, over any distance; what a camera saw bends by more
/// over one of them, be it ever so soft. Parts of the page are looked at when they are asked for.
class SmoothGround {
 public:
  /// `grey`: one channel of the page, rounded once; a mix of channels makes gradients rough. `block`: side of
  /// a texture block, pixels (`TextureMap::block`).
  SmoothGround(const cv::Mat1b& grey, int block);

  /// How far from an edge the page is still counted as rough, pixels.
  int reach() const { return reaches_.back(); }

  /// Share of each column of `box` that is rough, or of each row where `rows` is asked for.
  std::vector<double> rough_shares(const cv::Rect& box, bool rows);

 private:
  const cv::Mat1b& tile(int row, int column);
  void mark_bends(const cv::Rect& part, int reach, cv::Mat1b& rough) const;

  const cv::Mat1b& grey_;
  std::vector<int> reaches_;
  cv::Size tiles_;
  std::vector<cv::Mat1b> rough_;  ///< of each tile, 1 or 0; empty where nobody has asked yet
};

}  // namespace frisket
