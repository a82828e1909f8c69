#pragma once

#include "opencv.hpp"

namespace frisket {

/// True where a JPEG block grid of 8 px, aligned with the top left corner, lies over the whole page: the page
/// itself was saved as JPEG once, whatever its file is now. A JPEG picture that covers the page pixel for
/// pixel looks the same. `rgb`: CV_8UC3. In blocks on the grid, high coefficients that the compression made 0
/// are still 0; half a block beside it they are not (the idea of Fan, de Queiroz, Identification of bitmap
/// compression history, IEEE Trans. Image Processing 12(2), 2003; from memory).
bool was_jpeg(const cv::Mat& rgb);

}  // namespace frisket
