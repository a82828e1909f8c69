// Ink on pictures: what is drawn is found, and nothing of the picture is taken for more of it.
#include "page/elements/picture_ink.hpp"

#include <gtest/gtest.h>

#include "planted_page.hpp"

namespace frisket {
namespace {

constexpr int side = 600;  // px
const cv::Point middle(side / 2, side / 2);

/// Pale wood, out of focus but for its lower half, where the grain is sharp.
cv::Mat3b wood() {
  cv::RNG random(7);
  cv::Mat1f tone(side, side), grain(side, side);
  random.fill(tone, cv::RNG::NORMAL, 205.0, 60.0);
  random.fill(grain, cv::RNG::NORMAL, 0.0, 80.0);
  cv::GaussianBlur(tone, tone, {31, 15}, 0);
  cv::GaussianBlur(grain, grain, {9, 3}, 0);
  grain.rowRange(0, side / 2 + 70) = 0.0F;
  cv::Mat1b grey;
  cv::Mat(tone + grain).convertTo(grey, CV_8U);
  cv::Mat3b page;
  cv::merge(std::vector<cv::Mat>{grey, grey - 3, grey - 33}, page);
  return page;
}

Raster as_jpeg_page(const cv::Mat3b& pixels, int quality) {
  Raster page;
  page.width = page.height = side;
  page.rgb.assign(pixels.data, pixels.data + 3 * pixels.total());
  return planted::as_jpeg(std::move(page), quality);
}

/// Pixels of the page, which is one picture, that are taken for ink: 255.
cv::Mat1b ink_of(const Raster& page) {
  const Scale scale{300 / 25.4, true};
  SurfaceMap map;
  map.label = LabelMap({side, side}, 0);
  const std::vector<Run> whole{{0, side, 1}};
  for (int y = 0; y < side; ++y) map.label.add_row(whole);
  Surface picture;
  picture.kind = Surface::Kind::picture;
  picture.area = side * side;
  picture.box = {0, 0, side, side};
  picture.bleeds = true;
  map.surfaces.push_back(picture);
  SharpZones sharp(view_of(page), scale);
  const LabelMap found = ink_on_picture(map, 1, scale, sharp);
  cv::Mat1b ink(side, side, std::uint8_t{0});
  for (int y = 0; y < side; ++y)
    for (const Run& run : found.row(y)) ink(cv::Rect(run.begin, y, run.end - run.begin, 1)) = 255;
  return ink;
}

/// An O about the middle of the page.
cv::Mat1b letter(int stroke) {
  cv::Mat1b drawn(side, side, std::uint8_t{0});
  cv::circle(drawn, middle, 50, 255, stroke);
  return drawn;
}

TEST(PictureInk, IsNotTheGrainRoundALetter) {
  for (const int quality : {80, 90, 95}) {
    cv::Mat3b page = wood();
    page.setTo(cv::Vec3b(123, 16, 32), letter(20));
    const cv::Mat1b ink = ink_of(as_jpeg_page(page, quality));
    EXPECT_LE(cv::countNonZero(letter(12) & ~ink), 0.05 * cv::countNonZero(letter(12))) << quality;
    EXPECT_EQ(cv::countNonZero(ink & ~letter(28)), 0) << quality;
  }
}

}  // namespace
}  // namespace frisket
