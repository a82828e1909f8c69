// The box of a shape to a fraction of a pixel, against the fractions that were painted.
#include "page/zones/contour.hpp"

#include <gtest/gtest.h>

namespace frisket {
namespace {

/// Paints a rectangle with exact area coverage, as an anti-aliasing renderer does.
cv::Mat3b painted(double x0, double y0, double x1, double y1, const cv::Vec3b& ground, const cv::Vec3b& ink) {
  cv::Mat3b image(60, 80, ground);
  const auto covered = [](double a, double b, int pixel) {
    return std::max(0.0, std::min(b, pixel + 1.0) - std::max(a, double(pixel)));
  };
  for (int y = 0; y < image.rows; ++y)
    for (int x = 0; x < image.cols; ++x) {
      const double share = covered(x0, x1, x) * covered(y0, y1, y);
      for (int i = 0; i < 3; ++i)
        image(y, x)[i] = static_cast<std::uint8_t>(std::lround(ground[i] + share * (ink[i] - ground[i])));
    }
  return image;
}

class ExactBox : public testing::TestWithParam<double> {};

TEST_P(ExactBox, ReadsTheCoverageOfItsBorders) {
  const double f = GetParam();
  for (const auto& [ground, ink] : {std::pair(cv::Vec3b(255, 255, 255), cv::Vec3b(20, 30, 40)),
                                    std::pair(cv::Vec3b(40, 80, 160), cv::Vec3b(250, 250, 250))}) {
    const cv::Mat3b image = painted(10 + f, 8 + f, 50 + f, 40 + f, ground, ink);
    const cv::Vec3b paper = ground;
    const auto inside = [&](int x, int y) { return image(y, x) != paper; };
    cv::Rect box(10, 8, 40, 32);
    if (f > 0.004) box.width += 1, box.height += 1;
    const PixelRect exact = exact_box(image, box, inside);
    EXPECT_NEAR(exact.x, 10 + f, 0.02);
    EXPECT_NEAR(exact.y, 8 + f, 0.02);
    EXPECT_NEAR(exact.right(), 50 + f, 0.02);
    EXPECT_NEAR(exact.bottom(), 40 + f, 0.02);
  }
}

INSTANTIATE_TEST_SUITE_P(Fractions, ExactBox, testing::Values(0.0, 0.1, 0.25, 0.5, 0.75, 0.9));

TEST(ExactBoxOfAShape, AtTheCanvasEdgeIsThePixelEdge) {
  cv::Mat3b image(20, 20, cv::Vec3b::all(255));
  image(cv::Rect(0, 5, 8, 8)) = cv::Vec3b(0, 0, 0);
  const PixelRect exact =
      exact_box(image, {0, 5, 8, 8}, [&](int x, int y) { return image(y, x) == cv::Vec3b(0, 0, 0); });
  EXPECT_EQ(exact.x, 0.0);
  EXPECT_NEAR(exact.right(), 8.0, 1e-9);
}

}  // namespace
}  // namespace frisket
