#include "frisket/page.hpp"
#include "opencv.hpp"

namespace frisket {

void use_analysis_threads(int threads) {
  // Only ever fewer: asked for what it has already, the scheduler of a machine of one core complains on
  // stderr.
  if (threads < cv::getNumThreads()) cv::setNumThreads(threads);
}

}  // namespace frisket
