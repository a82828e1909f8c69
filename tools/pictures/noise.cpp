#include "pictures/noise.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace pictures {

std::uint32_t hash(int x, int y, std::uint32_t seed) {
  std::uint32_t h = static_cast<std::uint32_t>(x) * 0x9E3779B1u ^
                    static_cast<std::uint32_t>(y) * 0x85EBCA77u ^ seed * 0xC2B2AE3Du;
  h = (h ^ (h >> 15)) * 0x2C1B3C6Du;
  h = (h ^ (h >> 12)) * 0x297A2D39u;
  return h ^ (h >> 15);
}

float random_at(int x, int y, std::uint32_t seed) {
  return static_cast<float>(hash(x, y, seed) >> 8) / 16777216.0f;
}

float smoothstep(float from, float to, float value) {
  const float t = std::clamp((value - from) / (to - from), 0.0f, 1.0f);
  return t * t * (3 - 2 * t);
}

namespace {

float fade(float t) { return t * t * t * (t * (t * 6 - 15) + 10); }

float slope_at(int x, int y, float dx, float dy, std::uint32_t seed) {
  constexpr std::array<std::array<float, 2>, 8> directions{{{1, 0},
                                                            {-1, 0},
                                                            {0, 1},
                                                            {0, -1},
                                                            {.7071f, .7071f},
                                                            {-.7071f, .7071f},
                                                            {.7071f, -.7071f},
                                                            {-.7071f, -.7071f}}};
  const auto& d = directions[hash(x, y, seed) & 7];
  return d[0] * dx + d[1] * dy;
}

}  // namespace

float noise(float x, float y, std::uint32_t seed) {
  const float fx = std::floor(x), fy = std::floor(y);
  const int ix = static_cast<int>(fx), iy = static_cast<int>(fy);
  const float dx = x - fx, dy = y - fy, u = fade(dx), v = fade(dy);
  const float top = std::lerp(slope_at(ix, iy, dx, dy, seed), slope_at(ix + 1, iy, dx - 1, dy, seed), u);
  const float foot =
      std::lerp(slope_at(ix, iy + 1, dx, dy - 1, seed), slope_at(ix + 1, iy + 1, dx - 1, dy - 1, seed), u);
  return std::lerp(top, foot, v);
}

float fractal(float x, float y, int octaves, std::uint32_t seed) {
  float sum = 0, strength = 1;
  for (int i = 0; i < octaves; ++i, strength *= 0.5f) {
    sum += strength * noise(x, y, seed + static_cast<std::uint32_t>(i));
    // Turned a little each time, so that the lattice does not show.
    const float turned = 1.6f * x - 1.2f * y;
    y = 1.2f * x + 1.6f * y;
    x = turned;
  }
  return sum;
}

float ridged(float x, float y, int octaves, std::uint32_t seed) {
  float sum = 0, strength = 0.5f, carry = 1;
  for (int i = 0; i < octaves; ++i, strength *= 0.5f) {
    const float crest =
        1 - std::min(1.0f, 1.6f * std::abs(noise(x, y, seed + static_cast<std::uint32_t>(i))));
    sum += strength * crest * crest * carry;
    carry = crest;
    const float turned = 1.6f * x - 1.2f * y;
    y = 1.2f * x + 1.6f * y;
    x = turned;
  }
  return sum;
}

Cells cells(float x, float y, std::uint32_t seed) {
  const int ix = static_cast<int>(std::floor(x)), iy = static_cast<int>(std::floor(y));
  Cells found{9, 9, 0};
  for (int cy = iy - 1; cy <= iy + 1; ++cy)
    for (int cx = ix - 1; cx <= ix + 1; ++cx) {
      const float dx = static_cast<float>(cx) + random_at(cx, cy, seed) - x;
      const float dy = static_cast<float>(cy) + random_at(cx, cy, seed + 1) - y;
      const float distance = std::sqrt(dx * dx + dy * dy);
      if (distance < found.nearest) {
        found = {distance, found.nearest, hash(cx, cy, seed + 2)};
      } else {
        found.second = std::min(found.second, distance);
      }
    }
  return found;
}

}  // namespace pictures
