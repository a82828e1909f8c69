#include "page/pictures/picture_seams.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "photograph.hpp"

namespace frisket {
namespace {

constexpr int block = 16, least_side = 94;  // of a page of 300 dpi

cv::Mat1b grey(const cv::Mat& rgb) {
  cv::Mat1b one;
  cv::cvtColor(rgb, one, cv::COLOR_RGB2GRAY);
  return one;
}

cv::Mat1b scene(int width, int height, unsigned seed) {
  return grey(planted::photograph(width, height, seed));
}

/// Upright boards of about `width` pixels, each of its own shade and with the grain of wood along it, with
/// dark joints.
cv::Mat1b boards(int columns, int rows, int width, unsigned seed) {
  cv::RNG random(seed);
  cv::Mat1f levels(1, columns);
  for (int x = 0; x < columns;) {
    const int end = std::min(columns, x + width + random.uniform(-3, 4));
    levels.colRange(x, end) = random.uniform(100.0F, 150.0F);
    levels(0, x) = 70.0F;
    x = end;
  }
  cv::Mat1f wood(1, columns), noise(rows, columns);
  random.fill(wood, cv::RNG::NORMAL, 0.0, 8.0);
  random.fill(noise, cv::RNG::NORMAL, 0.0, 1.0);
  cv::Mat1b rounded;
  cv::Mat(cv::repeat(levels + wood, rows, 1) + noise).convertTo(rounded, CV_8U);
  return rounded;
}

cv::Mat1b beside(const cv::Mat1b& left, const cv::Mat1b& right) {
  cv::Mat1b both;
  cv::hconcat(left, right, both);
  return both;
}

std::vector<cv::Rect> parts_of(const cv::Mat1b& page) {
  return parted_at_seams(page, {{}, page.size()}, block, least_side);
}

TEST(PictureSeams, OfTwoScenesIsWhereTheyMeet) {
  const auto parts = parts_of(beside(scene(320, 500, 3), scene(380, 500, 4)));
  ASSERT_EQ(parts.size(), 2U);
  EXPECT_NEAR(parts[0].br().x, 320, 1);
  EXPECT_NEAR(parts[1].x, 320, 1);
}

TEST(PictureSeams, AreFoundAcrossToo) {
  const cv::Mat1b page(beside(scene(320, 500, 3), scene(380, 500, 4)).t());
  const auto parts = parts_of(page);
  ASSERT_EQ(parts.size(), 2U);
  EXPECT_NEAR(parts[1].y, 320, 1);
}

TEST(PictureSeams, OneSceneHasNone) {
  for (const unsigned seed : {5U, 6U, 7U}) EXPECT_EQ(parts_of(scene(700, 500, seed)).size(), 1U) << seed;
}

TEST(PictureSeams, AHorizonIsNone) {
  // Light above and darker below, and a far shore between, as straight as can be but not from one pixel to
  // the next.
  cv::Mat1b page(scene(500, 600, 5) / 16);
  const std::vector<int> shore{155, 115, 75, 70, 95};
  for (int y = 0; y < page.rows; ++y)
    page.row(y) += y < 298 ? 170 : y < 303 ? shore[static_cast<std::size_t>(y - 298)] : 110;
  EXPECT_EQ(parts_of(page).size(), 1U);
  EXPECT_EQ(parts_of(cv::Mat1b(page.t())).size(), 1U);
}

TEST(PictureSeams, BoardsHaveNone) {
  for (const int width : {12, 30, 60}) {
    EXPECT_EQ(parts_of(boards(700, 500, width, 8)).size(), 1U) << width;
    EXPECT_EQ(parts_of(cv::Mat1b(boards(700, 500, width, 8).t())).size(), 1U) << width;
  }
}

TEST(PictureSeams, BoardsEndWhereASceneBegins) {  // or at their last joint
  const auto parts = parts_of(beside(boards(320, 500, 30, 9), scene(380, 500, 10)));
  ASSERT_EQ(parts.size(), 2U);
  EXPECT_NEAR(parts[1].x, 320, 30);
}

TEST(PictureSeams, AWhiteRuleAmongBoardsIsOne) {
  cv::Mat1b page = boards(700, 500, 30, 11);
  page.colRange(350, 353) = 255;
  const auto parts = parts_of(page);
  ASSERT_EQ(parts.size(), 2U);
  EXPECT_NEAR(parts[0].br().x, 350, 3);
  EXPECT_NEAR(parts[1].x, 353, 3);
}

}  // namespace
}  // namespace frisket
