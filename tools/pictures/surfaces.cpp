// Two surfaces seen from very close: heights and colours drawn from noise, lit from one side.
#include <algorithm>
#include <cmath>

#include "pictures/film.hpp"
#include "pictures/noise.hpp"
#include "pictures/pictures.hpp"

namespace pictures {
namespace {

constexpr int kOver = 2;  // samples per pixel along each axis

struct Surface {
  cv::Vec3f colour;
  float height;
  float gloss;
};

/// Lights a surface, given over the unit square across, from the upper left.
template <class Shape>
cv::Mat3f lit(cv::Size size, Shape shape, float relief) {
  const cv::Size fine = size * kOver;
  cv::Mat3f light(fine);
  const float pixel = 1 / static_cast<float>(fine.width);
  const cv::Vec3f lamp = cv::normalize(cv::Vec3f(-0.62f, -0.48f, 0.62f));
  const cv::Vec3f half = cv::normalize(lamp + cv::Vec3f(0, 0, 1));
  for (int row = 0; row < fine.height; ++row)
    for (int column = 0; column < fine.width; ++column) {
      const float x = static_cast<float>(column) * pixel, y = static_cast<float>(row) * pixel;
      const Surface here = shape(x, y);
      const float dx = (shape(x + pixel, y).height - here.height) / pixel * relief;
      const float dy = (shape(x, y + pixel).height - here.height) / pixel * relief;
      const cv::Vec3f normal = cv::normalize(cv::Vec3f(-dx, -dy, 1));
      const float diffuse = 0.22f + 0.95f * std::max(0.0f, normal.dot(lamp));
      const float shine = here.gloss * std::pow(std::max(0.0f, normal.dot(half)), 90.0f);
      light(row, column) = here.colour * diffuse + cv::Vec3f(1.0f, 0.98f, 0.94f) * shine;
    }
  return light;
}

Surface glaze(float x, float y) {
  const float wx = x + 0.035f * fractal(x * 6, y * 6, 4, 211),
              wy = y + 0.035f * fractal(x * 6 + 9, y * 6, 4, 223);
  const Cells wide = cells(wx * 6.5f, wy * 6.5f, 227), narrow = cells(wx * 17 + 4, wy * 17, 229);
  const float crack =
      1 - smoothstep(0.0f, 0.035f + 0.03f * noise(x * 9, y * 9, 231), wide.second - wide.nearest);
  const float fine = (1 - smoothstep(0.0f, 0.05f, narrow.second - narrow.nearest)) *
                     smoothstep(-0.1f, 0.4f, fractal(x * 4, y * 4, 3, 233));
  const float pool = smoothstep(-0.6f, 0.7f, fractal(x * 2.2f, y * 2.2f + 3, 5, 239) + 0.9f * (y - 0.45f));
  cv::Vec3f tint =
      mix(colour(0xC9D6C4), colour(0x6F9A8C), pool) * (0.95f + 0.12f * fractal(x * 40, y * 40, 4, 241));
  tint = mix(tint, colour(0x4A3A2C), 0.82f * crack);
  tint = mix(tint, colour(0x7A6650), 0.5f * fine);
  const Cells iron = cells(x * 24, y * 24, 251);
  const float size = 0.05f + 0.2f * static_cast<float>(iron.id & 255u) / 255;
  const bool rusty = (iron.id >> 8 & 7u) < 2;
  if (rusty) tint = mix(tint, colour(0x5B3720), 0.85f * (1 - smoothstep(size * 0.5f, size, iron.nearest)));
  const float swell =
      0.14f * std::sin(1.2f + 3.1f * y + 1.5f * x) + 0.0022f * fractal(x * 14, y * 14, 3, 257);
  return {tint, swell - 0.0014f * crack - 0.0005f * fine, 0.85f * (1 - crack)};
}

Surface board(float x, float y) {
  const float gap_at = 0.618f + 0.006f * noise(y * 5, 2, 301);
  const bool right = x > gap_at;
  const float own = right ? 5.7f : 0;  // another board, another piece of the tree
  const float along = y * 1.1f + own;
  const float knot = std::hypot((x - 0.27f) * 3.2f, (y - 0.62f) * 1.5f);
  const float around = right ? 0 : 0.55f * std::exp(-knot * knot * 9);
  const float rings = x * 13 + own + 1.2f * fractal(x * 2.2f, along * 0.8f, 4, 307) +
                      around * 9 * (x < 0.27f ? -1.0f : 1.0f) * knot;
  const float grain = 0.5f + 0.5f * std::sin(rings * 6.2832f + 2 * fractal(x * 8, along, 3, 311));
  const float fibre = fractal(x * 210, along * 5, 4, 313);
  const float split = smoothstep(0.34f, 0.46f, fractal(x * 34, along * 1.3f, 3, 317));
  const float gap = 1 - smoothstep(0.004f, 0.012f, std::abs(x - gap_at));
  cv::Vec3f tint = mix(colour(0xA3907A), colour(0x6A5844), grain * 0.75f) * (1.05f + 0.36f * fibre);
  tint =
      mix(tint, colour(0x8A9688), 0.28f * smoothstep(0.0f, 0.6f, fractal(x * 5, y * 5, 5, 331)));  // lichen
  tint = mix(tint, colour(0x241E1A), 0.85f * split);
  tint = mix(tint, colour(0x3A2C22), right ? 0.0f : 0.8f * (1 - smoothstep(0.05f, 0.12f, knot)));
  const float nail = std::hypot(x - 0.755f, y - 0.3f);
  const float rust =
      std::exp(-std::abs(x - 0.755f) * 38 - std::max(0.0f, y - 0.3f) * 5) * (y > 0.3f ? 1.0f : 0.0f);
  tint = mix(tint, colour(0x6B3A22), 0.6f * rust);
  float height = 0.008f * grain + 0.0025f * fibre - 0.012f * split - 0.05f * gap;
  if (nail < 0.022f) {
    tint = colour(0x57443A) * (1 + 0.3f * fractal(x * 90, y * 90, 3, 337));
    height += 0.4f * std::sqrt(std::max(0.0f, 0.00065f - nail * nail));
  }
  return {mix(tint, colour(0x120E0C), 0.92f * gap), height, 0.02f};
}

}  // namespace

cv::Mat crackle(cv::Size size) {
  return develop(average_down(lit(size, glaze, 1), kOver), {0.98f, 0.016f, 0.3f, 5});
}
cv::Mat planks(cv::Size size) {
  return develop(average_down(lit(size, board, 1), kOver), {1.05f, 0.018f, 0.25f, 7});
}

}  // namespace pictures
