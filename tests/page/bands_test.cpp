// Bands: gradients in coarse steps are one ground, cards and stripes are not.
#include <gtest/gtest.h>

#include "page/grounds/grounds.hpp"

namespace frisket {
namespace {

const Scale scale{300 / 25.4, false};

std::ptrdiff_t surfaces_left(const SurfaceMap& map) {
  return std::ranges::count_if(map.surfaces, [](const Surface& s) { return s.area > 0; });
}

TEST(Bands, OfAGradientAreOneSurface) {
  cv::Mat3b page(600, 900, cv::Vec3b::all(255));
  for (int band = 0; band < 12; ++band)
    page(cv::Rect(30 + 70 * band, 100, 70, 400)) =
        cv::Vec3b::all(static_cast<std::uint8_t>(40 + 9 * band + band % 2));
  const SurfaceMap map = find_surfaces(page, scale);
  EXPECT_EQ(surfaces_left(map), 2) << "paper and gradient";
  const int gradient = map.label(300, 450);
  EXPECT_EQ(map.label(110, 40), gradient);
  EXPECT_EQ(map.of(gradient).box, cv::Rect(30, 100, 840, 400));
}

TEST(Bands, OfLargeEvenStepsAreOneSurfaceWhereTheyAreMany) {
  for (const int bands : {4, 6}) {
    cv::Mat3b page(600, 900, cv::Vec3b::all(255));
    for (int band = 0; band < bands; ++band)
      page(cv::Rect(30 + 140 * band, 100, 140, 400)) = cv::Vec3b(
          static_cast<std::uint8_t>(46 + 26 * band), static_cast<std::uint8_t>(134 + 14 * band), 171);
    EXPECT_EQ(surfaces_left(find_surfaces(page, scale)), bands == 4 ? 5 : 2);
  }
}

TEST(Bands, AreNoCardsOnAGround) {
  cv::Mat3b page(600, 900, cv::Vec3b::all(230));
  for (int card = 0; card < 4; ++card) page(cv::Rect(60 + 200 * card, 100, 150, 400)) = cv::Vec3b::all(240);
  EXPECT_EQ(surfaces_left(find_surfaces(page, scale)), 5);
}

TEST(Bands, AreNoStripesButStripesOfLikeColoursAreOneGroundToo) {
  cv::Mat3b page(600, 900, cv::Vec3b(46, 134, 171));
  for (int x = 0; x < page.cols; x += 100) page(cv::Rect(x, 0, 50, 600)) = cv::Vec3b(54, 135, 163);
  EXPECT_EQ(surfaces_left(find_surfaces(page, scale)), 1);
}

}  // namespace
}  // namespace frisket
