// What the pixels of a picture tell about its enlargement. Numbers marked numpy or SciPy were computed with
// numpy 1.24 and SciPy 1.10 on the same integer pattern, by other means: dense least squares
// (numpy.linalg.lstsq) for projections, numpy.fft.rfft with scipy.ndimage.uniform_filter1d and median_filter
// for spectra.
#include "page/resampling/resampling.hpp"

#include <gtest/gtest.h>

#include "page/pictures/jpeg_grid.hpp"
#include "page/resampling/choice.hpp"
#include "page/resampling/kernels.hpp"
#include "page/resampling/nearest.hpp"
#include "page/resampling/projection.hpp"
#include "page/resampling/spectrum.hpp"
#include "page/resampling/turned_grid.hpp"
#include "photograph.hpp"
#include "planted_page.hpp"

namespace frisket {
namespace {

/// An integer pattern that any language makes alike.
cv::Mat1d pattern(int rows, int columns) {
  cv::Mat1d values(rows, columns);
  for (int y = 0; y < rows; ++y)
    for (int x = 0; x < columns; ++x)
      values(y, x) = (x * x * 7 + y * y * 13 + x * y * 5 + (x * 31) % 17 * 11 + (y * 29) % 23 * 3) % 251;
  return values;
}

TEST(Kernels, HaveTheirPublishedValues) {
  // Mitchell and Netravali 1988: at 0, (6 - 2B) / 6; at 1, B / 6
  EXPECT_NEAR(kernel_weight(Kernel::mitchell, 0.0, 2), 8.0 / 9.0, 1e-12);
  EXPECT_NEAR(kernel_weight(Kernel::mitchell, 1.0, 2), 1.0 / 18.0, 1e-12);
  EXPECT_NEAR(kernel_weight(Kernel::catmull_rom, 0.5, 2), 9.0 / 16.0, 1e-12);
  EXPECT_NEAR(kernel_weight(Kernel::catmull_rom, -1.5, 2), -1.0 / 16.0, 1e-12);
  EXPECT_NEAR(kernel_weight(Kernel::lanczos3, 0.5, 2), 0.607927101854027,
              1e-12);  // numpy: sinc(.5) sinc(.5 / 3)
  EXPECT_EQ(kernel_weight(Kernel::bilinear, 0.25, 2), 0.75);
  EXPECT_EQ(kernel_weight(Kernel::area, 0.0, 4), 1.0);
  EXPECT_EQ(kernel_weight(Kernel::area, 0.5, 4), 0.5);
}

TEST(Kernels, SumToOneAtAnyPhase) {
  for (const Kernel kernel :
       {Kernel::bilinear, Kernel::catmull_rom, Kernel::cubic, Kernel::mitchell, Kernel::area})
    for (double at = 0.0; at < 1.0; at += 0.07) {
      double sum = 0.0;
      for (int k = -kernel_reach(kernel); k <= kernel_reach(kernel) + 1; ++k)
        sum += kernel_weight(kernel, at - k, 3.2);
      EXPECT_NEAR(sum, 1.0, 1e-9) << kernel_name(kernel) << " at " << at;
    }
}

TEST(Projection, EqualsLeastSquares) {
  cv::Mat1f luma;
  pattern(30, 128).convertTo(luma, CV_32F);
  const std::vector<Strip> strips = busiest_strips(luma);
  ASSERT_EQ(strips.size(), 1U);
  ASSERT_EQ(strips[0].rows, 24);
  // numpy: dense numpy.linalg.solve with the same ridge, every stretch of the same 24 rows projected by
  // itself
  const auto at = [&](Kernel kernel, double factor, std::size_t phase) {
    return residuals_by_phase(strips, kernel, factor)[phase];
  };
  EXPECT_NEAR(at(Kernel::bilinear, 3.125, 0), 73.763332, 1e-4);
  EXPECT_NEAR(at(Kernel::bilinear, 3.125, 5), 74.694966, 1e-4);
  EXPECT_NEAR(at(Kernel::catmull_rom, 2.5, 0), 74.256936, 1e-4);
  EXPECT_NEAR(at(Kernel::mitchell, 4.2, 5), 74.348483, 1e-4);
  EXPECT_NEAR(at(Kernel::lanczos3, 1.7, 5), 74.723287, 1e-4);
}

/// What an axis says of a factor that left `dip` and `residual` at one phase, with a spectrum peak of `peak`.
AxisSays says(double dip, double residual, double peak) {
  AxisSays axis;
  axis.peak = peak;
  axis.fit = {residual, dip, Kernel::bilinear};
  return axis;
}

const AxisSays silent = says(0.99, 3.0, 1.0), sure = says(0.3, 0.24, 30.0);

TEST(Choice, TakesWhatBothAxesAreSureOf) {
  const Choice choice = choose({{1.7, silent, silent}, {3.0, sure, sure}, {4.2, silent, silent}});
  EXPECT_EQ(choice.x, 3.0);
  EXPECT_EQ(choice.y, 3.0);
  EXPECT_GT(choice.probability, 0.95);
  EXPECT_LE(choice.probability + choice.none, 1.0 + 1e-12);
}

TEST(Choice, TakesNoneWhereNothingSpeaks) {
  EXPECT_GT(choose({{1.7, silent, silent}, {3.0, silent, silent}}).none, 0.9);
  EXPECT_EQ(choose({}).none, 1.0);
}

TEST(Choice, GivesEachAxisItsOwnFactor) {
  const Choice choice = choose({{3.0, sure, silent}, {4.0, silent, sure}});
  EXPECT_EQ(choice.x, 3.0);
  EXPECT_EQ(choice.y, 4.0);
  EXPECT_GT(choice.probability, 0.5);
}

TEST(Choice, NobodyStretchesByMoreThanHalf) {
  const Choice choice = choose({{2.0, sure, silent}, {6.0, silent, sure}});
  EXPECT_TRUE(choice.x == choice.y) << "2 by 6 is no answer";
}

TEST(Choice, IsLessSureWhereTwoFactorsExplainAsMuch) {
  EXPECT_LT(choose({{3.0, sure, sure}, {4.3, sure, sure}}).probability, 0.7);
}

TEST(Spectrum, EqualsSciPy) {
  cv::Mat1f luma;
  pattern(40, 300).convertTo(luma, CV_32F);
  const PeriodSpectrum spectrum = period_spectrum(luma);
  ASSERT_EQ(spectrum.columns, 298);
  ASSERT_EQ(spectrum.size, 2048);
  const std::vector<std::pair<std::size_t, double>> wanted{
      {100, 0.56118}, {333, 1.49875}, {512, 2.25195}, {777, 1.11843}, {1000, 0.76351}};
  for (const auto& [at, height] : wanted) EXPECT_NEAR(spectrum.height[at], height, 1e-3) << at;
}

/// The green channel of a test photograph.
cv::Mat1f photograph(int width, int height, unsigned seed) {
  cv::Mat green;
  cv::extractChannel(planted::photograph(width, height, seed), green, 1);
  green.convertTo(green, CV_32F);
  return green;
}

/// Each pixel of `picture` repeated; columns `across`, rows `down` times.
cv::Mat1f repeated(const cv::Mat1f& picture, double across, double down) {
  cv::Mat1f page(static_cast<int>(picture.rows * down), static_cast<int>(picture.cols * across));
  for (int y = 0; y < page.rows; ++y)
    for (int x = 0; x < page.cols; ++x)
      page(y, x) =
          std::round(picture(static_cast<int>((y + 0.5) / down), static_cast<int>((x + 0.5) / across)));
  return page;
}

TEST(RepeatedPixels, TellTheFactor) {
  for (const double factor : {1.2, 1.7, 3.125, 4.0, 6.3}) {
    const auto told = repeated_pixels_factor(repeated(photograph(160, 60, 1), factor, 1));
    ASSERT_TRUE(told) << factor;
    EXPECT_NEAR(*told, factor, 0.005 * factor);
  }
}

TEST(RepeatedPixels, AreNotSeenInAPhotograph) {
  EXPECT_FALSE(repeated_pixels_factor(photograph(300, 100, 2)));
  EXPECT_FALSE(repeated_pixels_factor(cv::Mat1f(100, 300, 90.0F))) << "a flat field";
}

TEST(BlockGrid, OfAnUnscaledPictureHasFactorOne) {
  cv::Mat1f luma(64, 512);  // 8 px blocks, each of a slightly different level, on a fine texture
  cv::RNG random(5);
  random.fill(luma, cv::RNG::NORMAL, 120.0, 0.6);
  for (int x = 0; x < luma.cols; ++x)
    for (int y = 0; y < luma.rows; ++y) luma(y, x) += static_cast<float>((x / 8 * 37 + y / 8 * 53) % 29);
  const BlockGrid grid = block_grid(period_spectrum(luma));
  EXPECT_NEAR(grid.factor, 1.0, 0.01);
  EXPECT_GT(grid.score, 0.9);
  EXPECT_TRUE(grid.explains(8.0 / 3.0));
  EXPECT_FALSE(grid.explains(1.7));
}

cv::Mat three_channels(const cv::Mat1f& luma) {
  cv::Mat bytes, rgb;
  luma.convertTo(bytes, CV_8U);
  cv::merge(std::vector<cv::Mat>{bytes, bytes, bytes}, rgb);
  return rgb;
}

TEST(Resampling, OfRepeatedPixelsKeepsItsTwoAxes) {
  const Resampling told = estimate_resampling(three_channels(repeated(photograph(150, 150, 3), 3.0, 2.4)));
  ASSERT_TRUE(told.factor_x && told.factor_y) << told.why;
  EXPECT_NEAR(*told.factor_x, 3.0, 0.02);
  EXPECT_NEAR(*told.factor_y, 2.4, 0.02);
}

TEST(Resampling, OfDetailAsFineAsThePage) {
  const cv::Mat picture = three_channels(photograph(400, 400, 4));
  const Resampling told = estimate_resampling(picture);
  EXPECT_TRUE(told.as_fine_as_page) << told.why;
  EXPECT_FALSE(told.factor_x);
  EXPECT_FALSE(estimate_resampling(picture, {true}).as_fine_as_page) << "a page that was JPEG cannot show it";
}

TEST(Resampling, IsUnknownWhereNothingTells) {
  EXPECT_FALSE(estimate_resampling(three_channels(photograph(60, 300, 4))).as_fine_as_page) << "too small";
  cv::Mat1f soft = photograph(400, 400, 4);
  cv::GaussianBlur(soft, soft, cv::Size(), 6);
  const Resampling told = estimate_resampling(three_channels(soft));
  EXPECT_FALSE(told.factor_x || told.as_fine_as_page) << told.why;
  EXPECT_FALSE(told.why.empty());
  const Resampling flat = estimate_resampling(cv::Mat(200, 200, CV_8UC3, cv::Scalar::all(90)));
  EXPECT_FALSE(flat.factor_x || flat.as_fine_as_page);
}

/// A picture of `ppi` placed at an odd position, rendered at 300 dpi by librsvg (cairo, bilinear).
cv::Mat rendered(double ppi, unsigned seed) {
  constexpr double side = 60.0;
  const int pixels = static_cast<int>(std::round(side / 25.4 * ppi));
  const Raster raster =
      planted::render(planted::image(10.13, 10.37, pixels * 25.4 / ppi, pixels * 25.4 / ppi,
                                     planted::png_uri(planted::photograph(pixels, pixels, seed))),
                      300, {0, 0, 90, 90});
  return view_of(raster)(cv::Rect(124, 126, 690, 690)).clone();
}

TEST(Resampling, OfPicturesRenderedByCairo) {
  for (const double ppi : {40.0, 72.0, 96.0, 133.0, 180.0, 220.0, 250.0}) {
    const Resampling told = estimate_resampling(rendered(ppi, 21));
    ASSERT_TRUE(told.factor_x && told.factor_y) << ppi << ": " << told.why;
    EXPECT_NEAR(300 / *told.factor_x, ppi, 0.02 * ppi) << told.why;
    EXPECT_NEAR(300 / *told.factor_y, ppi, 0.02 * ppi) << told.why;
    EXPECT_GE(told.confidence, 0.9);
  }
}

TEST(Resampling, IsNotSeenInA300PpiPictureBetweenPixels) {
  for (const unsigned seed : {31U, 32U, 33U}) {
    const Resampling told = estimate_resampling(rendered(300, seed));
    EXPECT_FALSE(told.factor_x || told.factor_y) << told.why;
  }
}

/// A photograph enlarged `factor` times and turned by `degrees` in one step, without mixing pixels.
cv::Mat1f turned_by(double degrees, double factor) {
  const cv::Mat1f picture = photograph(200, 200, 6);
  cv::Mat turn = cv::getRotationMatrix2D({100, 100}, degrees, factor);
  turn.at<double>(0, 2) += 100;
  turn.at<double>(1, 2) += 100;
  cv::Mat1f page;
  cv::warpAffine(picture, page, turn, cv::Size(400, 400), cv::INTER_NEAREST);
  return page;
}

TEST(TurnedGrid, TellsTheFactorAtAnyAngle) {
  for (const double degrees : {7.0, 30.0, 52.0}) {
    const auto grid = find_turned_grid(turned_by(degrees, 4.0));
    ASSERT_TRUE(grid && grid->factor) << degrees;
    EXPECT_NEAR(*grid->factor, 4.0, 0.1) << degrees;
    const Resampling told = estimate_resampling(three_channels(turned_by(degrees, 4.0)));
    ASSERT_TRUE(told.factor_x) << told.why;
    EXPECT_NEAR(*told.factor_x, 4.0, 0.2);
  }
}

TEST(TurnedGrid, IsNotSeenInAPhotograph) {
  for (const unsigned seed : {1U, 2U, 3U}) EXPECT_FALSE(find_turned_grid(photograph(400, 400, seed)));
}

TEST(Resampling, IsNotFineWhereTheDetailIsNoise) {
  cv::Mat1f page;
  cv::resize(photograph(180, 180, 8), page, cv::Size(), 3.1, 3.1, cv::INTER_CUBIC);
  cv::Mat1f noise(page.size());
  cv::RNG(3).fill(noise, cv::RNG::NORMAL, 0.0, 1.5);
  page += noise;
  EXPECT_FALSE(estimate_resampling(three_channels(page)).as_fine_as_page);
}

TEST(JpegGrid, IsSeenOnlyWhereThePageWasJpeg) {
  const Raster page =
      planted::render(planted::image(10, 10, 60, 40, planted::png_uri(planted::photograph(709, 472, 9))) +
                          planted::text(10, 70, 12, "Boats are taken out in October"),
                      300, {0, 0, 90, 90});
  EXPECT_FALSE(was_jpeg(view_of(page)));
  for (const int quality : {75, 90}) {
    vips::VImage image =
        vips::VImage::new_from_memory(const_cast<std::uint8_t*>(page.rgb.data()), page.rgb.size(), page.width,
                                      page.height, 3, VIPS_FORMAT_UCHAR);
    VipsBlob* blob = image.jpegsave_buffer(vips::VImage::option()->set("Q", quality));
    vips::VImage back = vips::VImage::jpegload_buffer(blob);
    std::size_t size = 0;
    auto* memory = static_cast<std::uint8_t*>(back.write_to_memory(&size));
    EXPECT_TRUE(was_jpeg(cv::Mat(page.height, page.width, CV_8UC3, memory))) << quality;
    g_free(memory);
    vips_area_unref(VIPS_AREA(blob));
  }
}

}  // namespace
}  // namespace frisket
