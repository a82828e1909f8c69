#include "page/pictures/picture_resampling.hpp"

#include <algorithm>
#include <functional>
#include <numeric>

#include "page/pictures/jpeg_grid.hpp"

namespace frisket {
namespace {

/// Measured milliseconds that the pictures of a page may take together before no other is begun, so that a
/// page of fifty costs no more than one of eight: 400 in all, with what it takes to find them and to end the
/// last.
constexpr int most_work = 220;

}  // namespace

std::vector<Resampling> resamplings_of(const cv::Mat& rgb, const std::vector<PictureRegion>& pictures,
                                       bool lossy) {
  std::vector<std::size_t> order(pictures.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::ranges::stable_sort(order, std::greater{}, [&](std::size_t i) { return pictures[i].box.area(); });
  PageHistory history;
  history.was_jpeg = !order.empty() && (lossy || was_jpeg(rgb));
  std::vector<Resampling> told(order.size());
  int work = 0;
  for (const std::size_t i : order) {
    if (work < most_work)
      told[i] = estimate_resampling(rgb(pictures[i].box), history);
    else
      told[i].why = "the page has many pictures, and others as large or larger were looked at first";
    work += told[i].work;
  }
  return told;
}

}  // namespace frisket
