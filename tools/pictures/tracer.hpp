#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

#include "opencv.hpp"

namespace pictures {

using Vec = cv::Vec3f;  // x right, y up, z towards the eye; centimetres

/// Part of a turned shape about a vertical axis: radius² = a + b·y + c·y² between two heights.
struct Turned {
  float a, b, c, from, to;
  bool hollow = false;  ///< seen from within: the wall of the inside
};

/// What the light meets: its colour, how much of a clear coat lies on it (0 to 1), its normal.
struct Skin {
  Vec colour;
  float coat;
  Vec normal;
};

/// A pot on the table. `skin` is asked with the point relative to the pot's foot and the plain normal.
struct Pot {
  Vec foot;
  std::vector<Turned> wall;
  float lip_inner, lip_outer, height;  ///< the lip is a ring at `height`, rounded in its shading
  float widest;
  std::function<Skin(const Vec& point, const Vec& normal, bool inside)> skin;
  Vec tone;  ///< colour on the whole, for light that has bounced
};

/// A room: a table at y = 0, a wall behind at z = `wall`, one window on the left.
struct Room {
  std::vector<Pot> pots;
  float wall;
  std::function<Skin(const Vec&point)> table, plaster;
  Vec table_tone, plaster_tone;
};

struct Camera {
  Vec eye, target;
  float angle;     ///< across the longer side of the picture, radians
  float focus;     ///< distance of the sharp plane
  float aperture;  ///< radius of the lens
};

/// Traces `side`² paths for each pixel, spread evenly over it: linear light, CV_32FC3. The same numbers on
/// every run.
cv::Mat3f trace(const Room& room, const Camera& camera, cv::Size size, int side);

}  // namespace pictures
