// Logos, type and screenshots enlarged by repeating their pixels, and what looks like them. Drawn and
// rendered by librsvg; repeated by OpenCV's cv::resize (INTER_NEAREST), which is not ours either.
#include "page/pictures/stepped_art.hpp"

#include <gtest/gtest.h>

#include "page/pictures/one_bit.hpp"
#include "page/pictures/pixel_grid.hpp"
#include "planted_page.hpp"

namespace frisket {
namespace {

using planted::rect;
using planted::text;

constexpr double dpi = 300;

const std::string logo =
    "<path d='M2 18 C4 4 12 2 18 6 S30 20 36 8 L38 18 Z' fill='#14406c'/><circle cx='28' cy='5' r='3.5' "
    "fill='#c84010'/><path d='M6 16 L14 8 L20 16 Z' fill='white'/>";

cv::Mat drawn(const std::string& drawing, double at_dpi, double width = 40, double height = 20) {
  const Raster raster = planted::render(drawing, at_dpi, {0, 0, width, height});
  return view_of(raster).clone();
}

cv::Mat repeated(const cv::Mat& small, double fx, double fy) {
  cv::Mat large;
  cv::resize(small, large, {}, fx, fy, cv::INTER_NEAREST);
  return large;
}

std::vector<SteppedArt> found_in(const cv::Mat& rgb) {
  return find_stepped_art(rgb, {cv::Rect(cv::Point(), rgb.size())}, dpi);
}

/// Black where dark, white elsewhere.
cv::Mat one_bit(const cv::Mat& rgb) {
  cv::Mat grey, out;
  cv::cvtColor(rgb, grey, cv::COLOR_RGB2GRAY);
  cv::threshold(grey, grey, 128, 255, cv::THRESH_BINARY);
  cv::cvtColor(grey, out, cv::COLOR_GRAY2RGB);
  return out;
}

TEST(SteppedArt, LogoAtAnyFactorFromTwo) {
  for (const double factor : {2.0, 2.4, 3.0, 3.125, 4.17, 6.0, 9.3}) {
    const cv::Mat small = drawn(logo, dpi / factor);
    for (const cv::Mat& art : {small, one_bit(small)}) {
      const auto found = found_in(repeated(art, factor, factor));
      ASSERT_EQ(found.size(), 1U) << factor;
      EXPECT_NEAR(found[0].factor_x, factor, 0.02 * factor);
      EXPECT_NEAR(found[0].factor_y, factor, 0.02 * factor);
    }
  }
}

TEST(SteppedArt, StretchedLogoHasTwoFactors) {
  const auto found = found_in(repeated(drawn(logo, 72), 4.17, 5.0));
  ASSERT_EQ(found.size(), 1U);
  EXPECT_NEAR(found[0].factor_x, 4.17, 0.06);
  EXPECT_NEAR(found[0].factor_y, 5.0, 0.06);
}

TEST(SteppedArt, LineOfType) {
  const cv::Mat small = drawn(text(1, 6, 12, "Lantern Yard", "fill='#222222'"), 96, 34, 9);
  const auto found = found_in(repeated(small, 3.125, 3.125));
  ASSERT_EQ(found.size(), 1U);
  EXPECT_NEAR(found[0].factor_x, 3.125, 0.03);
}

TEST(SteppedArt, ScreenshotOfPanelsAndSmallType) {
  std::string shot =
      rect(0, 0, 40, 20, "#f4f4f6") + rect(0, 0, 40, 3, "#30507c") + rect(2, 5, 10, 12, "white");
  for (int i = 0; i < 5; ++i) shot += text(14, 6 + 2.6 * i, 6, "Harbour office, window " + std::to_string(i));
  const auto found = found_in(repeated(drawn(shot, 100), 3, 3));
  ASSERT_EQ(found.size(), 1U);
  EXPECT_NEAR(found[0].factor_x, 3, 0.01);
}

TEST(SteppedArt, PartsOnOneGridAreOne) {
  const cv::Mat large = repeated(drawn(logo, 75), 4, 4);
  const int middle = large.cols * 6 / 10;
  const auto found = find_stepped_art(
      large, {cv::Rect(0, 0, middle, large.rows), cv::Rect(middle, 0, large.cols - middle, large.rows)}, dpi);
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found[0].box, cv::Rect(cv::Point(), large.size()));
}

TEST(SteppedArt, VectorDrawingIsNone) {
  EXPECT_TRUE(found_in(drawn(logo, dpi)).empty());
  EXPECT_TRUE(found_in(one_bit(drawn(logo, dpi))).empty()) << "steps of one page pixel are the page's own";
  EXPECT_TRUE(found_in(drawn(text(1, 8, 20, "Lantern Yard"), dpi)).empty());
}

TEST(SteppedArt, CodeOfModulesIsNone) {
  cv::RNG random(5);
  for (int k = 0; k < 20; ++k) {  // squares on a grid, as codes of modules are
    cv::Mat1b modules(29, 29);
    random.fill(modules, cv::RNG::UNIFORM, 0, 2);
    cv::Mat rgb;
    cv::cvtColor(modules * 255, rgb, cv::COLOR_GRAY2RGB);
    EXPECT_TRUE(found_in(repeated(rgb, 10, 10)).empty());
  }
}

TEST(SteppedArt, BarsOfAChartAreNone) {
  std::string bars;
  for (int i = 0; i < 12; ++i)
    bars += rect(2.032 + 2.54 * i, 18.288 - 1.27 * ((i * 7) % 11 + 1), 1.27, 1.27 * ((i * 7) % 11 + 1),
                 "#205080");
  EXPECT_TRUE(found_in(drawn(bars, dpi)).empty());
}

TEST(PixelGrid, FindsAPitchThroughMissingLines) {
  std::vector<int> at;
  for (int k = 0; k < 40; ++k)
    if (k % 5 != 3 && k % 7 != 2) at.push_back(static_cast<int>(std::lround(11.3 + 4.6 * k)));
  const auto grid = fit_pixel_grid(at);
  ASSERT_TRUE(grid);
  EXPECT_NEAR(grid->pitch, 4.6, 0.03);
  EXPECT_NEAR(std::remainder(grid->start - 11.3, 4.6), 0, 0.6);
}

TEST(PixelGrid, IsNotFoundWhereThereIsNone) {
  cv::RNG random(3);
  int found = 0;
  for (int k = 0; k < 2000; ++k) {
    std::vector<int> at{0};
    while (std::ssize(at) < 16) at.push_back(at.back() + random.uniform(3, 14));
    const auto grid = fit_pixel_grid(at);
    found += grid && grid->excluded > 12.0;
  }
  EXPECT_LE(found, 4) << "of 2000, and an axis alone is never enough";
}

TEST(OneBit, BlackAndWhiteAlone) {
  const cv::Mat page = one_bit(drawn(logo, 300));
  EXPECT_TRUE(is_one_bit(page));
  EXPECT_FALSE(is_one_bit(drawn(logo, 300)));
  EXPECT_FALSE(is_one_bit(cv::Mat(20, 20, CV_8UC3, cv::Scalar::all(255)))) << "blank";
  cv::Mat boxes(400, 400, CV_8UC3, cv::Scalar::all(255));
  for (int y = 20; y < 380; y += 20) boxes(cv::Rect(30, y, 200 + y / 4, 8)).setTo(cv::Scalar::all(0));
  EXPECT_FALSE(is_one_bit(boxes)) << "upright boxes have no grey at any resolution";
}

}  // namespace
}  // namespace frisket
