#pragma once

#include <array>
#include <optional>

#include "opencv.hpp"
#include "page/zones/scale.hpp"

namespace frisket {

/// A ground of two colours that take turns at equal steps: dots, crosses, a board, stripes.
struct Lattice {
  cv::Vec3f one, other;              ///< the colours
  std::array<cv::Vec2d, 2> periods;  ///< px (x, y), at a wide angle: moved by one, the ground is the same
  bool stripes = false;              ///< the second period leads along them

  /// How far the pixels of `rgb` are from `one` to `other`, 0 to `whole`; `neither` where they are not
  /// between the two.
  cv::Mat1b shares(const cv::Mat& rgb, const Scale& scale) const;
  static constexpr int whole = 200, neither = 255;
};

/// Finds the lattice of a page (CV_8UC3) whose two colours take turns along the canvas edge again and again,
/// as no live matter does. Its periods are the nearest peaks of the autocorrelation of the part of the page
/// with most of both: Lin, Wang, Yang, Extracting periodicity of a regular texture based on autocorrelation
/// functions, Pattern Recognition Letters 18, 1997; for the choice of peaks: Liu, Collins, Tsin, A
/// computational model for periodic pattern perception, IEEE TPAMI 26(3), 2004.
std::optional<Lattice> find_lattice(const cv::Mat& rgb, const Scale& scale);

}  // namespace frisket
