// PNG files as written for overlays, read back by libvips (libpng).
#include "report/png.hpp"

#include <gtest/gtest.h>

#include <random>
#include <vips/vips8>

namespace frisket {
namespace {

cv::Mat read_back(const std::vector<std::uint8_t>& png) {
  VipsBlob* blob = vips_blob_copy(png.data(), png.size());
  const vips::VImage image =
      vips::VImage::pngload_buffer(blob, vips::VImage::option()->set("fail_on", VIPS_FAIL_ON_WARNING));
  EXPECT_EQ(image.bands(), 3);
  cv::Mat rgb(image.height(), image.width(), CV_8UC3);
  image.write(
      vips::VImage::new_from_memory(rgb.data, rgb.total() * 3, rgb.cols, rgb.rows, 3, VIPS_FORMAT_UCHAR));
  vips_area_unref(VIPS_AREA(blob));
  return rgb;
}

bool same(const cv::Mat& a, const cv::Mat& b) {
  return a.size() == b.size() && cv::norm(a, b, cv::NORM_INF) == 0;
}

TEST(Png, EveryPixelComesBackWhateverTheSize) {
  std::mt19937 chance(11);
  for (const cv::Size size : {cv::Size(1, 1), cv::Size(1, 50), cv::Size(333, 1), cv::Size(97, 131)}) {
    cv::Mat picture(size, CV_8UC3);
    for (int y = 0; y < size.height; ++y)
      for (int i = 0; i < 3 * size.width; ++i) picture.ptr(y)[i] = static_cast<std::uint8_t>(chance());
    EXPECT_TRUE(same(read_back(png_of(picture)), picture)) << size;
  }
}

TEST(Png, APartOfALargerPictureIsThatPartAlone) {
  cv::Mat picture(40, 60, CV_8UC3, cv::Scalar(10, 20, 30));
  picture(cv::Rect(20, 10, 5, 5)).setTo(cv::Scalar(200, 100, 0));
  const cv::Mat part = picture(cv::Rect(18, 8, 20, 20));
  EXPECT_TRUE(same(read_back(png_of(part)), part));
}

TEST(Png, FlatColourTakesHardlyAnyBytes) {
  EXPECT_LT(png_of(cv::Mat(1000, 1000, CV_8UC3, cv::Scalar(133, 133, 133))).size(), 20'000U);
}

}  // namespace
}  // namespace frisket
