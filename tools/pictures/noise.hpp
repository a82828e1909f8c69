#pragma once

#include <cstdint>

namespace pictures {

/// A well mixed 32-bit number from two coordinates and a seed; the same on every machine.
std::uint32_t hash(int x, int y, std::uint32_t seed);
/// Uniform in [0, 1), from `hash`.
float random_at(int x, int y, std::uint32_t seed);

/// Gradient noise, about -0.7 to 0.7, features one unit wide.
float noise(float x, float y, std::uint32_t seed);
/// Octaves of `noise`, each twice as fine and half as strong: about -1 to 1.
float fractal(float x, float y, int octaves, std::uint32_t seed);
/// Octaves folded at zero into sharp crests: 0 to 1.
float ridged(float x, float y, int octaves, std::uint32_t seed);

/// Nearest and second nearest of one random point per unit cell.
struct Cells {
  float nearest, second;
  std::uint32_t id;  ///< of the nearest cell
};
Cells cells(float x, float y, std::uint32_t seed);

/// 0 below `from`, 1 above `to`, smooth between.
float smoothstep(float from, float to, float value);

}  // namespace pictures
