#include "pictures/film.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "pictures/noise.hpp"

namespace pictures {
namespace {

// IEC 61966-2-1, both ways.
float encoded(float linear) {
  return linear <= 0.0031308f ? 12.92f * linear : 1.055f * std::pow(linear, 1 / 2.4f) - 0.055f;
}
float decoded(float srgb) {
  return srgb <= 0.04045f ? srgb / 12.92f : std::pow((srgb + 0.055f) / 1.055f, 2.4f);
}

// Straight in the shadows and mid tones, rolling off towards white from 0.6 on.
float shoulder(float light) {
  constexpr float knee = 0.6f;
  return light < knee ? light : knee + (1 - knee) * (1 - std::exp(-(light - knee) / (1 - knee)));
}

/// Bell-shaped, standard deviation 1: four uniform numbers added.
float bell(int x, int y, std::uint32_t seed) {
  float sum = 0;
  for (std::uint32_t i = 0; i < 4; ++i) sum += random_at(x, y, seed * 16 + i);
  return (sum - 2) * 1.732f;
}

}  // namespace

cv::Mat develop(const cv::Mat3f& light, const Film& film) {
  cv::Mat print(light.size(), CV_8UC3);
  const float cx = static_cast<float>(light.cols) / 2, cy = static_cast<float>(light.rows) / 2;
  for (int y = 0; y < light.rows; ++y)
    for (int x = 0; x < light.cols; ++x) {
      const float dx = (static_cast<float>(x) - cx) / cx, dy = (static_cast<float>(y) - cy) / cy;
      const float lens = film.exposure * (1 - film.vignette * (dx * dx + dy * dy) / 2);
      const float speck = bell(x, y, film.seed);
      for (int c = 0; c < 3; ++c) {
        const float tone = encoded(shoulder(std::max(0.0f, light(y, x)[c] * lens)));
        const float own = bell(x, y, film.seed + 101u + static_cast<std::uint32_t>(c));
        const float grain = film.grain * (0.8f * speck + 0.45f * own) * (0.45f + 2.2f * tone * (1 - tone));
        print.at<cv::Vec3b>(y, x)[c] = cv::saturate_cast<std::uint8_t>(255 * (tone + grain));
      }
    }
  return print;
}

cv::Mat3f average_down(const cv::Mat3f& light, int factor) {
  cv::Mat3f small;
  cv::resize(light, small, {light.cols / factor, light.rows / factor}, 0, 0, cv::INTER_AREA);
  return small;
}

cv::Vec3f colour(std::uint32_t srgb) {
  static const std::array<float, 256> linear = [] {
    std::array<float, 256> table{};
    for (std::size_t i = 0; i < table.size(); ++i) table[i] = decoded(static_cast<float>(i) / 255);
    return table;
  }();
  const auto part = [&](int shift) { return linear[(srgb >> shift) & 255u]; };
  return {part(16), part(8), part(0)};
}

}  // namespace pictures
