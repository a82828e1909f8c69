#pragma once

#include <optional>
#include <vector>

namespace frisket {

/// The grid of pixels that were repeated along one axis: boundaries at `start` + k * `pitch`, rounded to
/// whole page pixels.
struct PixelGrid {
  double start = 0, pitch = 1;  ///< page pixels
  double excluded = 0;          ///< how unlikely chance is, in bits

  /// The page pixel in the middle of each grid pixel that lies in 0 to `length`.
  std::vector<int> middles(int length) const;
};

/// The grid that all `boundaries` (rising, page pixels) lie on, though most of its lines may be missing, as
/// on drawn matter; its pitch is 2 or more. Empty where there is none, or too few boundaries to exclude
/// chance. At least one gap has to be of a single pixel.
std::optional<PixelGrid> fit_pixel_grid(const std::vector<int>& boundaries);

}  // namespace frisket
