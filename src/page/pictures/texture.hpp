#pragma once

#include "opencv.hpp"

namespace frisket {

/// Where photographic texture lies on a page, block by block. The masks have one element a block, 255 or 0;
/// block (i, j) covers the pixels from (j * block, i * block) on. Blocks cut by the right and bottom
/// canvas edges are left out.
///
/// A renderer draws type, shapes and gradients with exactly flat or exactly smooth colour inside and one
/// pixel of anti-aliasing at their edges; a photograph has neither. That difference is all that is used
/// here, so it holds for rendered pages, not for scans.
struct TextureMap {
  int block = 0;       ///< side of a block, pixels: 16 at 300 dpi (1.35 mm)
  cv::Mat1b textured;  ///< surely photographic: many grey levels, none that dominates, not smooth
  cv::Mat1b
      restless;  ///< no hard edge, but grey that goes up and down again: among many such, a soft picture
  cv::Mat1b lettered;  ///< hard edges on smooth ground, not textured: type or line art
};

/// Maps the texture of a page strip by strip, for pages whose rows are there one after the other.
class TextureMapper {
 public:
  /// `page`: 8 bits, grey or R G B of any size, of which green is looked at: a mix of channels, rounded
  /// again, makes gradients rough. It need not hold before it is said to. `dpi` > 0.
  TextureMapper(const cv::Mat& page, double dpi);

  /// Judges the next strip if the first `rows` rows are enough for it; false where they are not, or where no
  /// strip is left.
  bool judge_next(int rows);
  /// Judges what is left.
  TextureMap finish();

 private:
  void judge(int first, int last);

  cv::Mat page_;
  TextureMap map_;
  int judged_ = 0;  ///< rows of blocks
};

}  // namespace frisket
