#pragma once

#include "opencv.hpp"

namespace frisket {

/// Where photographic texture lies on a page, block by block. Both masks have one element a block, 255 or 0;
/// block (i, j) covers the pixels from (j * block, i * block) on. Blocks cut by the right and bottom
/// canvas edges are left out.
///
/// A renderer draws type, shapes and gradients with exactly flat or exactly smooth colour inside and one
/// pixel of anti-aliasing at their edges; a photograph has neither. That difference is all that is used
/// here, so it holds for rendered pages, not for scans.
struct TextureMap {
  int block = 0;       ///< side of a block, pixels: 16 at 300 dpi (1.35 mm)
  cv::Mat1b textured;  ///< surely photographic: many grey levels, none that dominates, not smooth
  cv::Mat1b soft;      ///< may be the soft part of a picture (sky, blur), or a drawn gradient
};

/// `grey`: 8-bit page of any size; `dpi` > 0.
TextureMap map_texture(const cv::Mat1b& grey, double dpi);

}  // namespace frisket
