// Pots by window light: shapes, glazes and the set they stand on. The light is traced in tracer.cpp.
#include <algorithm>
#include <cmath>

#include "pictures/film.hpp"
#include "pictures/noise.hpp"
#include "pictures/pictures.hpp"
#include "pictures/tracer.hpp"

namespace pictures {
namespace {

/// A glaze: colours from the foot up, the bare clay below its edge, and how it lies.
struct Glaze {
  Vec low, high, lip, clay;
  float edge;     ///< height where the glaze ends above the foot, cm; 0: down to the table
  float speckle;  ///< share of iron spots
  float rings;    ///< how deep the marks of throwing are
  float coat;     ///< 0 dull to 1 glassy
  std::uint32_t seed;
};

Skin glazed(const Glaze& glaze, float height, const Vec& p, const Vec& normal, bool inside) {
  const float turn = std::atan2(p[0], p[2]), r = std::hypot(p[0], p[2]);  // the seam is at the back
  const float u = turn * r, y = p[1];
  const float edge = glaze.edge + 0.35f * fractal(u / 2.2f, 0.5f, 3, glaze.seed);
  const bool bare = !inside && y < edge && glaze.edge > 0;
  const float run = y / height + 0.22f * fractal(u / 1.1f, y / 7, 4, glaze.seed + 1) +
                    0.1f * fractal(u / 0.5f, y / 0.9f, 4, glaze.seed + 2);
  Vec tint = mix(glaze.low, glaze.high, smoothstep(0.05f, 0.85f, run));
  tint = mix(tint, glaze.lip,
             smoothstep(height - 0.55f, height - 0.05f, y + 0.25f * noise(u / 0.8f, 0, glaze.seed + 3)));
  const Cells spot = cells(u / 0.42f, y / 0.42f, glaze.seed + 4);
  const float chance = static_cast<float>(spot.id & 255u) / 255;
  if (chance < glaze.speckle) {
    const float size = 0.1f + 0.24f * static_cast<float>(spot.id >> 8 & 255u) / 255;
    tint = mix(tint, colour(0x5A4030), 0.75f * (1 - smoothstep(size * 0.4f, size, spot.nearest)));
  }
  tint *= 1 + 0.08f * fractal(u / 0.16f, y / 0.16f, 3, glaze.seed + 5);
  if (bare) tint = glaze.clay * (0.92f + 0.3f * fractal(u / 0.13f, y / 0.1f, 3, glaze.seed + 6));
  const float groove =
      glaze.rings * std::cos(y * 5.4f + 0.5f * turn + 1.2f * noise(u / 5, y / 2, glaze.seed + 7));
  const Vec bent = cv::normalize(normal + Vec(0, groove, 0) +
                                 Vec(fractal(u / 1.9f, y / 1.9f, 2, glaze.seed + 8), 0, 0) * 0.02f);
  return {tint, bare ? 0.0f : glaze.coat, bent};
}

Pot thrown(const Vec& foot, std::vector<Turned> wall, float lip_inner, float lip_outer, float height,
           float widest, const Glaze& glaze) {
  auto skin = [glaze, height](const Vec& p, const Vec& n, bool inside) {
    return glazed(glaze, height, p, n, inside);
  };
  return {foot,   std::move(wall), lip_inner, lip_outer,
          height, widest,          skin,      mix(glaze.low, glaze.high, 0.5f)};
}

/// Radius² of an ellipse standing on its lowest point: 0 at `low`, `radius`² at `high`, level there if `full`
/// is 1; less of the ellipse, and so a wider opening, below that.
Turned bowl_wall(float low, float high, float radius, float full, float from, bool hollow) {
  const float h = (high - low) / full;  // half height of the whole ellipse
  const float scale = radius * radius / (1 - (1 - full) * (1 - full));
  // scale * (1 - ((y - low - h) / h)²), multiplied out
  const float m = low + h, k = scale / (h * h);
  return {scale - k * m * m, 2 * k * m, -k, from, high, hollow};
}

Pot bowl(const Vec& foot, float radius, float height, float full, const Glaze& glaze) {
  const float ring = radius * 0.42f, stem = height * 0.12f, thick = 0.34f;
  const Turned outer = bowl_wall(-height * 0.06f, height, radius, full, stem * 0.8f, false);
  const Turned inner = bowl_wall(stem + 0.5f, height, radius - thick, full, stem + 0.5f, true);
  const Turned base{ring * ring, 0, 0, 0, stem * 2, false};
  return thrown(foot, {outer, inner, base}, radius - thick, radius, height, radius, glaze);
}

/// A bottle: an egg-shaped body and a waisted neck that meet without a step at the shoulder.
Pot bottle(const Vec& foot, float radius, float height, float neck, const Glaze& glaze) {
  const float belly = height * 0.33f, waist = height * 0.86f, shoulder = height * 0.6f;
  const float flat = 0.55f;  // share of the radius² lost between belly and foot
  const float b = flat * radius * radius / (belly * belly);
  const float k = b * (shoulder - belly) / (waist - shoulder);
  const float drop =
      b * (shoulder - belly) * (shoulder - belly) + k * (waist - shoulder) * (waist - shoulder);
  const float widest2 = neck * neck + drop;
  const Turned body{widest2 - b * belly * belly, 2 * b * belly, -b, 0, shoulder, false};
  const Turned upper{neck * neck + k * waist * waist, -2 * k * waist, k, shoulder, height, false};
  const float lip2 = neck * neck + k * (height - waist) * (height - waist);
  const float lip = std::sqrt(lip2);
  const Turned throat{upper.a - 0.8f, upper.b, upper.c, height * 0.8f, height, true};
  return thrown(foot, {body, upper, throat}, std::sqrt(lip2 - 0.8f), lip, height, std::sqrt(widest2), glaze);
}

/// A straight beaker, a little wider at the top.
Pot beaker(const Vec& foot, float low, float high, float height, const Glaze& glaze) {
  const float b = (high * high - low * low) / height, thick = 0.3f;
  const Turned outer{low * low, b, 0, 0, height, false};
  const Turned inner{(low - thick) * (low - thick),
                     ((high - thick) * (high - thick) - (low - thick) * (low - thick)) / height,
                     0,
                     0.5f,
                     height,
                     true};
  return thrown(foot, {outer, inner}, high - thick, high, height, high, glaze);
}

const Glaze kCeladon{
    colour(0x6E9C8C), colour(0xA9C9B6), colour(0xB99B74), colour(0xA9795A), 0.9f, 0.05f, 0.05f, 1, 400};
const Glaze kOatmeal{
    colour(0xD9CBB2), colour(0xE6DCC8), colour(0x9A6B45), colour(0xB08562), 1.3f, 0.4f, 0.06f, 0.75f, 410};
const Glaze kTenmoku{
    colour(0x140D0B), colour(0x2B1710), colour(0x8A4A22), colour(0x7A5540), 1.5f, 0.02f, 0.04f, 1, 420};
const Glaze kTerracotta{
    colour(0xA44E2C), colour(0xB8623A), colour(0xC98A5E), colour(0xA65B3B), 0, 0.06f, 0.09f, 0.1f, 430};
const Glaze kTide{
    colour(0x1E4356), colour(0x3E7488), colour(0xB98F68), colour(0x8F6A50), 1.1f, 0.08f, 0.05f, 1, 440};
const Glaze kChalk{
    colour(0xE4DED2), colour(0xEEE9DF), colour(0xD8CDBB), colour(0xC3A488), 0.8f, 0.12f, 0.07f, 0.5f, 450};

const Vec kOak = colour(0xA08060), kLimewash = colour(0xD4CBBE);

Skin oak(const Vec& p) {
  const float x = p[0], z = p[2], board = std::floor(z / 13 + 0.3f);
  const float own = board * 17.3f;
  const float rings = z * 0.75f + own + 1.6f * fractal(x / 30 + own, z / 9, 4, 501);
  const float grain = 0.5f + 0.5f * std::sin(rings * 6.2832f);
  const float fibre = fractal(x / 2.4f + own, z / 0.09f, 3, 503),
              pores = smoothstep(0.22f, 0.5f, fractal(x / 1.1f, z / 0.07f, 3, 505));
  Vec tint = mix(colour(0xB59673), colour(0x93704E), 0.55f * grain) * (1 + 0.16f * fibre);
  tint = mix(tint, colour(0x5A4028), 0.4f * pores);
  const float joint = std::abs(z / 13 + 0.3f - std::round(z / 13 + 0.3f)) * 13;
  tint = mix(colour(0x2B1E14), tint, smoothstep(0.02f, 0.1f, joint));
  return {tint, 0.22f, cv::normalize(Vec(0.006f * fibre, 1, 0.03f * fibre))};
}

Skin limewash(const Vec& p) {
  const float cloud = 0.5f + 0.5f * fractal(p[0] / 26, p[1] / 20, 4, 511),
              brush = fractal(p[0] / 7, p[1] / 1.4f, 4, 513);
  const Vec tint = mix(colour(0xC9BFB0), colour(0xE0D8CB), cloud) * (1 + 0.035f * brush);
  const float bump = 0.06f * noise(p[0] / 3, p[1] / 2, 515);
  return {tint, 0, cv::normalize(Vec(bump, 0.5f * bump + 0.02f * brush, 1))};
}

}  // namespace

cv::Mat still_life(cv::Size size) {
  Room room{{}, -34, oak, limewash, kOak, kLimewash};
  room.pots = {bottle({-37, 0, -9}, 7.2f, 25, 1.7f, kTenmoku),
               bowl({-20.5f, 0, 3}, 10.2f, 8.6f, 0.82f, kCeladon),
               beaker({-5.5f, 0, 9}, 3.2f, 3.9f, 7.2f, kOatmeal),
               beaker({-3.5f, 0, -3}, 3.3f, 4.1f, 9.4f, kTerracotta),
               bowl({15.5f, 0, -2}, 12.6f, 5.6f, 0.7f, kTerracotta),
               bowl({15.5f, 1.9f, -2}, 10.8f, 6.2f, 0.74f, kTide),
               bottle({34, 0, -10}, 6.3f, 19.5f, 1.5f, kChalk),
               bowl({33, 0, 8}, 6.0f, 6.4f, 0.86f, kOatmeal),
               bowl({48.5f, 0, -4}, 7.6f, 7.0f, 0.85f, kCeladon)};
  const Camera camera{{2, 24, 92}, {4, 9.4f, 0}, 1.02f, 90, 0.75f};
  return develop(trace(room, camera, size, 3), {1.12f, 0.014f, 0.25f, 9});
}

cv::Mat tea_bowl(cv::Size size) {
  Room room{{}, -30, oak, limewash, kOak, kLimewash};
  room.pots = {bowl({0, 0, 0}, 6.2f, 7.4f, 0.9f, kTide), bottle({10.5f, 0, -15}, 5.2f, 19, 1.4f, kChalk),
               beaker({-9, 0, -11}, 3.1f, 3.8f, 8.4f, kTerracotta)};
  const Camera camera{{2, 17, 52}, {0.6f, 5.6f, 0}, 0.46f, 50, 0.9f};
  return develop(trace(room, camera, size, 4), {1.15f, 0.014f, 0.25f, 11});
}

}  // namespace pictures
