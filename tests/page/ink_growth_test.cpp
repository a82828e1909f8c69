// Growing ink over the pixels that it covers in part, on a ground with grain.
#include "page/elements/ink_growth.hpp"

#include <gtest/gtest.h>

#include <random>

namespace frisket {
namespace {

const cv::Vec3f ink_colour(240, 230, 90);

cv::Mat3b grainy_ground(cv::Size size) {
  std::mt19937 random(11);
  cv::Mat3b ground(size);
  for (cv::Vec3b& pixel : ground)
    for (int i = 0; i < 3; ++i)
      pixel[i] = static_cast<std::uint8_t>(40 + 20 * i + static_cast<int>(random() % 9));
  return ground;
}

/// Paints ink over a pixel by its coverage, as a renderer does.
void paint(cv::Mat3b& page, int x, int y, float coverage) {
  const cv::Vec3f under = page(y, x);
  page(y, x) = under + coverage * (ink_colour - under);
}

/// Pure ink where coverage is whole: what is grown from.
LabelMap seeds_of(const cv::Mat3b& page) {
  LabelMap seeds(page.size(), 0);
  std::vector<int> row(static_cast<std::size_t>(page.cols));
  for (int y = 0; y < page.rows; ++y) {
    for (int x = 0; x < page.cols; ++x)
      row[static_cast<std::size_t>(x)] = cv::Vec3f(page(y, x)) == ink_colour ? 1 : 0;
    seeds.add_row(row.data());
  }
  return seeds;
}

TEST(InkGrowth, TwoStemsAreJoinedByTheHairlineBetweenThem) {
  cv::Mat3b page = grainy_ground({30, 20});
  for (int y = 4; y < 16; ++y)
    for (const int x : {8, 9, 16, 17}) paint(page, x, y, 1.0F);
  for (int x = 10; x < 16; ++x) paint(page, x, 10, 0.6F);
  const LabelMap grown = grow_ink(page, seeds_of(page), {ink_colour});
  for (int x = 8; x < 18; ++x) EXPECT_EQ(grown(10, x), 1) << x;
  for (int y = 0; y < page.rows; ++y)
    for (int x = 0; x < page.cols; ++x)
      if (y < 4 || y >= 16 || x < 8 || x >= 18) {
        EXPECT_EQ(grown(y, x), 0) << x << " " << y;
      }
  EXPECT_EQ(grown(7, 12), 0) << "the ground between the stems";
}

TEST(InkGrowth, ARimIsTakenFromHalfCoverageOn) {
  cv::Mat3b page = grainy_ground({24, 24});
  for (int y = 6; y < 18; ++y) {
    for (int x = 8; x < 16; ++x) paint(page, x, y, 1.0F);
    paint(page, 7, y, 0.7F);
    paint(page, 16, y, 0.3F);
  }
  const LabelMap grown = grow_ink(page, seeds_of(page), {ink_colour});
  for (int y = 7; y < 17; ++y) {
    EXPECT_EQ(grown(y, 7), 1) << y;
    EXPECT_EQ(grown(y, 16), 0) << y;
    EXPECT_EQ(grown(y, 6), 0) << y;
  }
}

TEST(InkGrowth, WhatIsOfAnotherHueIsThePicturesOwn) {
  cv::Mat3b page = grainy_ground({24, 24});
  for (int y = 6; y < 18; ++y) {
    for (int x = 8; x < 16; ++x) paint(page, x, y, 1.0F);
    page(y, 16) = cv::Vec3b(90, 230, 240);
  }
  const LabelMap grown = grow_ink(page, seeds_of(page), {ink_colour});
  for (int y = 6; y < 18; ++y) EXPECT_EQ(grown(y, 16), 0) << y;
}

}  // namespace
}  // namespace frisket
