#include "page/grounds/tints.hpp"

#include <gtest/gtest.h>

#include "photograph.hpp"

namespace frisket {
namespace {

/// Round dots at the corners and in the middle of squares of `square` pixels.
cv::Mat dots(double square) {
  cv::Mat rgb(200, 200, CV_8UC3, cv::Scalar(220, 170, 90));
  constexpr int bits = 4, unit = 1 << bits;  // of a pixel
  for (int j = -1; j * square < 400; ++j)
    for (int i = -1; i * square < 400; ++i) {
      const double shift = j % 2 == 0 ? 0.0 : square / 2;
      const cv::Point at(cvRound((i * square + shift) * unit), cvRound(j * square / 2 * unit));
      cv::circle(rgb, at, 4 * unit, cv::Scalar(40, 60, 120), cv::FILLED, cv::LINE_AA, bits);
    }
  return rgb;
}

TEST(Tints, OfDotsWithOneHalfWayToTheNextStraightAcross) {
  for (const double square : {16.0, 17.0, 18.5}) EXPECT_TRUE(is_tint(dots(square))) << square;
}

TEST(Tints, AreNoPictures) {
  for (const double blur : {0.6, 3.0, 12.0}) {
    cv::Mat picture = planted::photograph(240, 240, 12);
    cv::GaussianBlur(picture, picture, cv::Size(), blur);
    EXPECT_FALSE(is_tint(picture)) << blur;
  }
}

}  // namespace
}  // namespace frisket
