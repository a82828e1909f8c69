#pragma once

#include <cstdint>

#include "opencv.hpp"

namespace pictures {

/// How linear light becomes a print.
struct Film {
  float exposure = 1;     ///< factor on the light
  float grain = 0.012f;   ///< standard deviation in the mid tones, of 1
  float vignette = 0.2f;  ///< share of light lost in the corners
  std::uint32_t seed = 1;
};

/// Scene light (CV_32FC3, R G B, linear, any range from 0) to CV_8UC3 sRGB of the same size: filmic
/// shoulder, falling off to the corners, grain in every pixel.
cv::Mat develop(const cv::Mat3f& light, const Film& film);

/// Averages the picture down by whole factors: CV_32FC3 in, CV_32FC3 out.
cv::Mat3f average_down(const cv::Mat3f& light, int factor);

/// Linear light of an sRGB colour written 0xRRGGBB.
cv::Vec3f colour(std::uint32_t srgb);

inline cv::Vec3f mix(const cv::Vec3f& a, const cv::Vec3f& b, float share) { return a + (b - a) * share; }

}  // namespace pictures
