#include "pictures/film.hpp"

#include <gtest/gtest.h>

namespace pictures {
namespace {

cv::Scalar spread_of(const cv::Mat& print) {
  cv::Scalar mean, spread;
  cv::meanStdDev(print, mean, spread);
  return spread;
}

// A flat patch would be taken for a drawn shape: even clear sky has grain in it.
TEST(Film, PutsGrainOnEvenLight) {
  const cv::Mat3f even({64, 64}, cv::Vec3f::all(0.2f));
  const cv::Scalar grainy = spread_of(develop(even, {1, 0.012f, 0, 1})),
                   clean = spread_of(develop(even, {1, 0, 0, 1}));
  for (int c = 0; c < 3; ++c) {
    EXPECT_GT(grainy[c], 1.5);
    EXPECT_LT(grainy[c], 6);
    EXPECT_EQ(clean[c], 0);
  }
}

TEST(Film, LosesLightTowardsTheCorners) {
  const cv::Mat print = develop(cv::Mat3f({64, 64}, cv::Vec3f::all(0.2f)), {1, 0, 0.5f, 1});
  EXPECT_LT(print.at<cv::Vec3b>(0, 0)[0], print.at<cv::Vec3b>(32, 32)[0] - 20);
}

// IEC 61966-2-1: code 128 stands for 0.2158605 of white (computed from the standard's formula).
TEST(Film, ReadsColoursAsTheStandardSays) {
  const cv::Vec3f light = colour(0x8000FF);
  EXPECT_NEAR(light[0], 0.2158605, 1e-6);
  EXPECT_EQ(light[1], 0);
  EXPECT_FLOAT_EQ(light[2], 1);
}

TEST(Film, AveragesWholeBlocks) {
  cv::Mat3f light({4, 2}, cv::Vec3f::all(0));
  light(0, 0) = cv::Vec3f(4, 8, 12);
  const cv::Mat3f small = average_down(light, 2);
  ASSERT_EQ(small.size(), cv::Size(2, 1));
  EXPECT_EQ(small(0, 0), cv::Vec3f(1, 2, 3));
  EXPECT_EQ(small(0, 1), cv::Vec3f(0, 0, 0));
}

}  // namespace
}  // namespace pictures
