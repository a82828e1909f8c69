// The shrunk page against plain arithmetic, pixel by pixel, and against OpenCV's own mean over areas.
#include "report/overlay_ground.hpp"

#include <gtest/gtest.h>

#include <random>

namespace frisket {
namespace {

cv::Mat random_page(cv::Size size, unsigned seed) {
  std::mt19937 chance(seed);
  cv::Mat page(size, CV_8UC3);
  for (int y = 0; y < size.height; ++y)
    for (int i = 0; i < 3 * size.width; ++i) page.ptr(y)[i] = static_cast<std::uint8_t>(chance());
  return page;
}

/// Mean of the area of pixel x, y of the result, at a hundredth of a pixel.
double plain_mean(const cv::Mat1b& grey, cv::Size size, int x, int y) {
  const double wide = static_cast<double>(grey.cols) / size.width,
               high = static_cast<double>(grey.rows) / size.height;
  double sum = 0, area = 0;
  for (int j = 0; j < grey.rows; ++j)
    for (int i = 0; i < grey.cols; ++i) {
      const double across = std::min<double>(i + 1, (x + 1) * wide) - std::max<double>(i, x * wide);
      const double down = std::min<double>(j + 1, (y + 1) * high) - std::max<double>(j, y * high);
      if (across <= 0 || down <= 0) continue;
      sum += across * down * grey(j, i);
      area += across * down;
    }
  return sum / area;
}

TEST(ShrunkGrey, EachPixelIsTheMeanOfItsArea) {
  for (const auto& [from, to] :
       {std::pair(cv::Size(37, 53), cv::Size(17, 24)), std::pair(cv::Size(64, 48), cv::Size(16, 12)),
        std::pair(cv::Size(41, 9), cv::Size(40, 1)), std::pair(cv::Size(12, 12), cv::Size(12, 12))}) {
    const cv::Mat page = random_page(from, 5);
    cv::Mat1b grey;
    cv::cvtColor(page, grey, cv::COLOR_RGB2GRAY);
    const cv::Mat1b shrunk = shrunk_grey(page, to);
    ASSERT_EQ(shrunk.size(), to);
    for (int y = 0; y < to.height; ++y)
      for (int x = 0; x < to.width; ++x)
        ASSERT_NEAR(shrunk(y, x), plain_mean(grey, to, x, y), 0.51)
            << from << " to " << to << " at " << x << ", " << y;
  }
}

TEST(ShrunkGrey, IsWhatOpenCvMakesOfAPage) {
  const cv::Mat page = random_page({1111, 777}, 6);
  cv::Mat colour, wanted;
  cv::resize(page, colour, {400, 280}, 0, 0, cv::INTER_AREA);
  cv::cvtColor(colour, wanted, cv::COLOR_RGB2GRAY);
  EXPECT_LE(cv::norm(shrunk_grey(page, {400, 280}), wanted, cv::NORM_INF), 1);
}

TEST(ShrunkGrey, IsTheSameForAnyNumberOfThreads) {
  const cv::Mat page = random_page({500, 700}, 7);
  const int threads = cv::getNumThreads();
  cv::setNumThreads(1);
  const cv::Mat alone = shrunk_grey(page, {123, 171});
  cv::setNumThreads(threads);
  EXPECT_EQ(cv::norm(shrunk_grey(page, {123, 171}), alone, cv::NORM_INF), 0);
}

}  // namespace
}  // namespace frisket
