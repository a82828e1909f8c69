// Taking shadows and glows off the ink that casts them.
#include "page/elements/soft_rims.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cstdint>

namespace frisket {
namespace {

const Scale scale{300 / 25.4, false};
const cv::Size size(60, 40);
const cv::Rect stem(8, 8, 24, 24);       // wide enough to have squares of one colour
const cv::Rect hairline(32, 12, 20, 5);  // too thin for them

const cv::Vec3b ink(250, 230, 200), nearly_ink(246, 226, 196);

cv::Mat1b letter() {
  cv::Mat1b mask(size, std::uint8_t{0});
  mask(stem).setTo(255);
  mask(hairline).setTo(255);
  return mask;
}

cv::Mat3b on_grey(const cv::Mat1b& covered) {
  cv::Mat3b page(size, cv::Vec3b(120, 120, 120));
  page.setTo(ink, covered);
  return page;
}

TEST(SoftRims, AHairlineIsNoShadowForOneMixedPixelBesideIt) {
  cv::Mat1b thing = letter();
  cv::Mat3b page = on_grey(thing);
  page(hairline.br().y, hairline.br().x - 4) = nearly_ink;
  EXPECT_FALSE(take_off_soft_rim(page, thing, scale));
  EXPECT_EQ(cv::countNonZero(thing != letter()), 0);
}

TEST(SoftRims, AHairlineIsInkWithTheStemThatItGoesOnFrom) {
  cv::Mat1b thing = letter();
  cv::Mat3b page = on_grey(thing);
  page(cv::Rect(hairline.x, hairline.br().y, hairline.width, 1)).setTo(nearly_ink);
  EXPECT_FALSE(take_off_soft_rim(page, thing, scale));
  EXPECT_EQ(cv::countNonZero(thing != letter()), 0);
}

TEST(SoftRims, AtHalfTheResolutionAStrokeOfHalfTheWidthIsFlatInk) {
  const cv::Rect stroke(8, 4, 6, 32), shown(14, 8, 20, 20);
  cv::Mat1b thing(size, std::uint8_t{0});
  thing(stroke).setTo(255);
  cv::Mat3b page = on_grey(thing);
  page(shown).setTo(cv::Vec3b(90, 60, 130));
  thing(shown).setTo(255);
  page(cv::Rect(stroke.x - 1, stroke.y, 1, stroke.height)).setTo(nearly_ink);
  const cv::Mat1b before = thing.clone();
  EXPECT_FALSE(take_off_soft_rim(page, thing, {150 / 25.4, false}));
  EXPECT_EQ(cv::countNonZero(thing != before), 0);
}

TEST(SoftRims, AShadowUnderOneSideIsTakenOff) {
  cv::Mat1b thing = letter();
  cv::Mat3b page = on_grey(thing);
  constexpr int deep = 6, step = 6;  // pixels, levels
  for (int depth = 0; depth < deep; ++depth) {
    const cv::Rect row(stem.x, stem.br().y + depth, stem.width, 1);
    const auto grey = static_cast<std::uint8_t>(120 - step * (deep - depth));
    page(row).setTo(cv::Vec3b(grey, grey, grey));
    thing(row).setTo(255);
  }
  EXPECT_TRUE(take_off_soft_rim(page, thing, scale));
  EXPECT_EQ(cv::countNonZero(thing != letter()), 0);
}

}  // namespace
}  // namespace frisket
