#include "frisket/page.hpp"
#include "opencv.hpp"

namespace frisket {

void use_analysis_threads(int threads) { cv::setNumThreads(threads); }

}  // namespace frisket
