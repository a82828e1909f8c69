// A tidal river at dusk. The camera is level, so each column of the picture looks along one straight line
// over the land: heights are marched from near to far and painted upwards, each over the gap the nearer
// ones left. Water mirrors what stands above the horizon, broken by ripples.
#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "pictures/film.hpp"
#include "pictures/noise.hpp"
#include "pictures/pictures.hpp"

namespace pictures {
namespace {

constexpr int kOver = 2;         // samples per pixel along each axis
constexpr float kEye = 9;        // metres above the water
constexpr float kGlow = -0.09f;  // where the sun went down, tangent from the middle
constexpr float kFar = 14000;    // metres, where the march ends

struct View {
  cv::Size size;  // oversampled
  float horizon;  // row
  float focal;    // in rows
  float across(int column) const {
    return (static_cast<float>(column) + 0.5f - static_cast<float>(size.width) / 2) / focal;
  }
  float up(float row) const { return (horizon - row) / focal; }
};

struct Stop {
  float up;
  cv::Vec3f light;
};

cv::Vec3f clear_sky(float across, float up) {
  static const std::array<Stop, 6> stops{{{-0.02f, colour(0xF2B98A)},
                                          {0.03f, colour(0xEDB08C)},
                                          {0.11f, colour(0xCF9C98)},
                                          {0.24f, colour(0x8F8EA6)},
                                          {0.45f, colour(0x54708F)},
                                          {0.95f, colour(0x23405F)}}};
  cv::Vec3f light = stops.back().light;
  for (std::size_t i = 1; i < stops.size(); ++i)
    if (up < stops[i].up) {
      light = mix(stops[i - 1].light, stops[i].light, smoothstep(stops[i - 1].up, stops[i].up, up));
      break;
    }
  const float dx = (across - kGlow) / 0.26f, dy = (up - 0.005f) / 0.085f;
  return light + colour(0xFFB45A) * 0.95f * std::exp(-(dx * dx + dy * dy));
}

float cloud(float x, float z) {
  const float warp = fractal(x * 0.5f + 7, z * 0.5f, 3, 31);
  return fractal(x * 0.55f + 0.9f * warp, z * 1.25f + 0.6f * warp, 7, 37) +
         0.25f * fractal(x * 0.16f, z * 0.3f, 3, 41);
}

cv::Vec3f sky(float across, float up) {
  const cv::Vec3f clear = clear_sky(across, up);
  if (up < 0.004f) return clear;
  // The clouds lie on a level sheet, so they crowd towards the horizon.
  const float distance = 1 / (up + 0.06f), x = across * distance, z = distance;
  const float density = cloud(x, z);
  const float cover = smoothstep(-0.14f, 0.55f, density - 0.55f * smoothstep(0.3f, 0.8f, up) + 0.04f);
  const float towards_sun = cloud(x + 0.06f, z + 0.12f);
  const float lit = smoothstep(-0.16f, 0.26f, density - towards_sun + 0.05f);
  const float warm = std::exp(-up / 0.22f);
  const cv::Vec3f shade = mix(colour(0x5C6A84), colour(0x93757F), warm);
  const cv::Vec3f bright = mix(colour(0xC2AEB6), colour(0xFFB987), warm) * 1.08f;
  const float haze = std::exp(-up / 0.02f);
  return mix(clear, mix(shade, bright, lit), cover * (0.9f - 0.75f * haze));
}

struct Land {
  float height;
  float rough;  // 0 mud, 1 hill
};

Land land(float x, float z) {
  const float bend = 26 * std::sin(z / 118 + 0.4f) + 120 * std::sin(z / 690) * smoothstep(90, 900, z);
  // The river bends away before the far hills, so that they close the view.
  const float half = (21 + z * 0.055f + 7 * noise(z / 60, 0, 3)) * (1 - 1.6f * smoothstep(900, 2600, z));
  const float off = std::abs(x - bend + 6) - half + 9 * fractal(x / 38, z / 60, 4, 5);
  if (off < 0) return {std::max(-3.0f, off * 0.05f), 0};
  const float mud =
      0.5f * smoothstep(0, 46, off) + 0.2f * fractal(x / 9, z / 22, 5, 7) * smoothstep(1, 20, off);
  const float marsh = 0.9f * smoothstep(20, 44, off) * (0.8f + 0.6f * fractal(x / 5, z / 7, 6, 11));
  float height = mud + marsh;
  if (const float rise = smoothstep(90, 1500, off) * smoothstep(160, 1200, z); rise > 0)
    height += std::max(0.0f, rise * (150 * ridged(x / 1300 + 3.3f, z / 1500, 7, 13) +
                                     60 * fractal(x / 300, z / 420, 8, 17) + 30));
  if (const float far = smoothstep(3600, 9000, z); far > 0)
    height += far * (360 * ridged(x / 3600 + 1.2f, z / 5200, 7, 19) + 40);
  if (const float wood = smoothstep(60, 140, off) * smoothstep(0.02f, 0.25f, fractal(x / 70, z / 110, 3, 23));
      wood > 0)
    height +=
        wood * (4 + 10 * smoothstep(60, 400, z)) * (0.6f + 0.9f * std::abs(fractal(x / 6, z / 9, 5, 29)));
  return {height, smoothstep(18, 60, off)};
}

cv::Vec3f land_light(float x, float z, const Land& here) {
  const float step = 0.4f + z * 0.004f;
  const float away = land(x + kGlow * step, z + step).height - here.height;  // falls away towards the light
  const float aside = land(x + step, z).height - here.height;
  const float facing = std::clamp(0.5f - 0.55f * away / step + 0.18f * aside / step, 0.0f, 1.0f);
  const float patch = 0.5f + 0.5f * fractal(x / (3 + z * 0.01f), z / (4 + z * 0.02f), 5, 43);
  const cv::Vec3f growth = mix(colour(0x2C3228), colour(0x6A5A3C), patch);
  const cv::Vec3f mud = mix(colour(0x5A4C43), colour(0x7C6A5D), patch);
  const cv::Vec3f ground = mix(mud, growth, here.rough);
  const cv::Vec3f lamp = mix(colour(0x4E5F80) * 0.75f, colour(0xFFBE8C) * 1.25f, facing);
  return ground.mul(lamp);
}

cv::Vec3f through_haze(const cv::Vec3f& light, float across, float z, float height) {
  const float share = 1 - std::exp(-z / 3300 * std::exp(-height / 900));
  return mix(light, clear_sky(across, 0.02f) * 0.86f, share);
}

/// Paints one column of sky and land; returns per row whether it is water.
void paint_column(const View& view, int column, cv::Mat3f& picture, cv::Mat1b& water) {
  const float across = view.across(column);
  for (int row = 0; row < view.size.height; ++row)
    picture(row, column) = sky(across, std::max(0.0f, view.up(static_cast<float>(row))));
  int painted = view.size.height;
  for (float z = 14; z < kFar && painted > 0; z *= 1.005f) {
    const float x = across * z;
    const Land here = land(x, z);
    const float top = view.horizon + (kEye - std::max(0.0f, here.height)) * view.focal / z;
    const int row = std::clamp(static_cast<int>(std::ceil(top)), 0, view.size.height);
    if (row >= painted) continue;
    const bool wet = here.height < 0;
    const cv::Vec3f light = wet ? cv::Vec3f() : through_haze(land_light(x, z, here), across, z, here.height);
    for (int y = row; y < painted; ++y) {
      picture(y, column) = light;
      water(y, column) = wet ? 1 : 0;
    }
    painted = row;
  }
}

cv::Vec3f mirrored(const View& view, const cv::Mat3f& picture, float column, float row) {
  const float up = std::clamp(2 * view.horizon - row, 0.0f, view.horizon - 1);
  const int x = std::clamp(static_cast<int>(column), 0, view.size.width - 1);
  return picture(static_cast<int>(up), x);
}

void flood(const View& view, const cv::Mat1b& water, cv::Mat3f& picture) {
  const cv::Mat3f dry = picture.clone();
  for (int row = static_cast<int>(view.horizon) + 1; row < view.size.height; ++row) {
    const float down = -view.up(static_cast<float>(row)), z = kEye / down;
    const float calm = std::exp(-z / 420);  // far ripples are finer than a pixel and only blur
    for (int column = 0; column < view.size.width; ++column) {
      const float across = view.across(column), x = across * z;
      const bool wet = water(row, column) != 0;
      const float wind = smoothstep(-0.35f, 0.5f, fractal(x / 46, z / 90, 3, 47));
      const float slope = (0.004f + 0.017f * wind) * fractal(x / 1.9f, z / 0.8f, 5, 53);
      const float side = (0.002f + 0.009f * wind) * fractal(x / 1.6f, z / 1.1f, 4, 59);
      const float smear = (random_at(column, row, 61) - 0.5f) * 0.012f * (1 - calm);
      const float shifted = static_cast<float>(row) + view.focal * (2 * slope + smear);
      const cv::Vec3f above = mirrored(view, dry, static_cast<float>(column) + view.focal * side, shifted);
      const float cosine = std::clamp(down / std::sqrt(1 + down * down) + slope, 0.0f, 1.0f);
      const float mirror = 0.06f + 0.94f * std::pow(1 - cosine, 4.0f);
      const cv::Vec3f body = colour(0x1C3440) * 0.8f;
      if (wet) {
        picture(row, column) = mix(body, above * 0.93f, mirror);
      } else {  // wet mud shines a little where it is nearly level
        const Land here = land(x, z);
        const float shine =
            0.5f * mirror * (1 - here.rough) * smoothstep(-0.3f, 0.3f, fractal(x / 13, z / 45, 6, 67));
        picture(row, column) = mix(dry(row, column), above, shine);
      }
    }
  }
}

/// Something dark that stands in the water at depth z: its outline in metres (x, height), drawn upright
/// and once more upside down, where the ripples break it.
struct Standing {
  float z;
  std::vector<cv::Point2f> outline;
  cv::Vec3f light;
};

cv::Mat1b silhouette(const View& view, const Standing& thing, bool reflected) {
  constexpr int kShift = 4;  // fixed-point bits of OpenCV's polygon coordinates
  std::vector<cv::Point> corners;
  for (const cv::Point2f& p : thing.outline) {
    const float height = reflected ? -p.y : p.y;
    const float x = static_cast<float>(view.size.width) / 2 + p.x * view.focal / thing.z;
    const float y = view.horizon + (kEye - height) * view.focal / thing.z;
    corners.emplace_back(static_cast<int>(x * (1 << kShift)), static_cast<int>(y * (1 << kShift)));
  }
  cv::Mat1b mask(view.size, 0);
  cv::fillPoly(mask, std::vector{corners}, 255, cv::LINE_AA, kShift);
  return mask;
}

/// Sideways shift of a reflection, in columns, growing with the distance from the thing's foot.
float wobble(const View& view, float base, float column, float row) {
  if (row <= base) return 0;
  const float z = kEye * view.focal / (row - view.horizon), x = view.across(static_cast<int>(column)) * z;
  return (3 + (row - base) * 0.045f) * fractal(x / 1.6f, z / 0.55f, 4, 71);
}

void stand(const View& view, const Standing& thing, cv::Mat3f& picture) {
  constexpr int kReach = 40;  // columns, further than any wobble
  const cv::Mat1b upright = silhouette(view, thing, false), reflection = silhouette(view, thing, true);
  const float base = view.horizon + kEye * view.focal / thing.z;
  cv::Rect area = cv::boundingRect(upright | reflection);
  area = (area - cv::Point(kReach, 0) + cv::Size(2 * kReach, 0)) & cv::Rect({}, view.size);
  for (int row = area.y; row < area.y + area.height; ++row)
    for (int column = area.x; column < area.x + area.width; ++column) {
      const float x = static_cast<float>(column), y = static_cast<float>(row);
      const int from =
          std::clamp(column + static_cast<int>(wobble(view, base, x, y)), 0, view.size.width - 1);
      const float below = static_cast<float>(reflection(row, from)) / 255 * 0.78f;
      const float body = static_cast<float>(upright(row, column)) / 255;
      cv::Vec3f& light = picture(row, column);
      light = mix(light, thing.light * 0.9f, below);
      light = mix(light, thing.light * (0.8f + 0.5f * noise(x / 3, y / 17, 73)), body);
    }
}

Standing post(float x, float z, float height, float lean) {
  const float half = 0.17f;
  const cv::Vec3f light = through_haze(colour(0x2A2524), x / z, z, 0);
  return {z,
          {{x - half, 0}, {x - half + lean, height}, {x + half * 0.8f + lean, height + 0.08f}, {x + half, 0}},
          light};
}

std::vector<Standing> boat(float x, float z) {
  const cv::Vec3f dark = through_haze(colour(0x23252C), x / z, z, 0),
                  pale = through_haze(colour(0x8E8078), x / z, z, 0);
  return {{z,
           {{x - 3.3f, 0.95f},
            {x - 2.9f, 0.1f},
            {x - 2.5f, 0},
            {x + 2.1f, 0},
            {x + 2.9f, 0.45f},
            {x + 3.5f, 1.25f},
            {x + 1.2f, 0.85f},
            {x - 1, 0.8f}},
           dark},
          {z,
           {{x - 3.3f, 0.95f},
            {x - 1, 0.8f},
            {x + 1.2f, 0.85f},
            {x + 3.5f, 1.25f},
            {x + 3.4f, 1.1f},
            {x + 1.2f, 0.7f},
            {x - 1, 0.65f},
            {x - 3.27f, 0.8f}},
           pale},
          {z, {{x - 1.4f, 0.8f}, {x - 1.2f, 1.35f}, {x + 0.6f, 1.42f}, {x + 0.9f, 0.85f}}, dark},
          {z, {{x + 0.35f, 0.8f}, {x + 0.4f, 8.3f}, {x + 0.49f, 8.3f}, {x + 0.52f, 0.8f}}, dark},
          {z,
           {{x + 0.45f, 2.1f}, {x - 2.9f, 1.75f}, {x - 2.9f, 1.95f}, {x - 1.2f, 2.4f}, {x + 0.45f, 2.45f}},
           dark}};
}

}  // namespace

cv::Mat estuary(cv::Size size) {
  const cv::Size fine = size * kOver;
  const View view{fine, 0.60f * static_cast<float>(fine.height), 0.72f * static_cast<float>(fine.height)};
  cv::Mat3f picture(fine);
  cv::Mat1b water(fine, 0);
  for (int column = 0; column < fine.width; ++column) paint_column(view, column, picture, water);
  flood(view, water, picture);
  for (const Standing& part : boat(-3.2f, 88)) stand(view, part, picture);
  for (const auto& [x, z, height, lean] :
       {std::array{9.6f, 64.f, 2.6f, .1f}, std::array{8.3f, 52.f, 2.3f, -.12f},
        std::array{7.2f, 42.f, 2.7f, .05f}, std::array{6.1f, 34.f, 2.2f, .16f}})
    stand(view, post(x, z, height, lean), picture);
  return develop(average_down(picture, kOver), {1.06f, 0.016f, 0.22f, 3});
}

}  // namespace pictures
