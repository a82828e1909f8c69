#include "pictures/tracer.hpp"

#include <algorithm>
#include <cmath>
#include <initializer_list>

#include "pictures/film.hpp"
#include "pictures/noise.hpp"

namespace pictures {
namespace {

constexpr int kBounces = 2;
constexpr float kNear = 1e-3f;  // cm, keeps a path from meeting the point it left
constexpr float kPi = 3.14159265f;

// The window: a tall opening in the wall on the left, with a cross of glazing bars.
constexpr float kWindowX = -95, kWindowLow = 22, kWindowHigh = 84, kWindowBack = -12, kWindowFront = 40;
const Vec kDaylight{17.5f, 16.9f, 15.8f};
const Vec kFill{0.1f, 0.1f, 0.105f};  // the rest of the room

/// A stream of numbers in [0, 1) for one path.
class Dice {
 public:
  Dice(int x, int y, std::uint32_t sample) : x_(x), y_(y), seed_(sample * 977u) {}
  float roll() { return random_at(x_, y_, seed_++); }

 private:
  int x_, y_;
  std::uint32_t seed_;
};

struct Ray {
  Vec from, along;
};

struct Meeting {
  float distance = 1e9f;
  Vec point, normal;
  const Pot* pot = nullptr;
  bool inside = false, table = false, window = false;
};

bool glazing_bar(float y, float z) {
  const auto near = [](float v, float at) { return std::abs(v - at) < 1.6f; };
  return near(y, 0.5f * (kWindowLow + kWindowHigh)) || near(z, 0.5f * (kWindowBack + kWindowFront));
}

bool passes_by(const Ray& ray, const Pot& pot) {
  const Vec centre = pot.foot + Vec(0, pot.height / 2, 0) - ray.from;
  const float along = centre.dot(ray.along), reach2 = pot.widest * pot.widest + pot.height * pot.height / 4;
  return centre.dot(centre) - along * along > reach2 || (along < 0 && centre.dot(centre) > reach2);
}

void meet_wall(const Ray& local, const Pot& pot, const Turned& part, Meeting& met) {
  const Vec& o = local.from;
  const Vec& d = local.along;
  const float a = d[0] * d[0] + d[2] * d[2] - part.c * d[1] * d[1];
  const float b = o[0] * d[0] + o[2] * d[2] - part.c * o[1] * d[1] - 0.5f * part.b * d[1];
  const float c = o[0] * o[0] + o[2] * o[2] - part.a - part.b * o[1] - part.c * o[1] * o[1];
  const float root2 = b * b - a * c;
  if (root2 < 0 || std::abs(a) < 1e-9f) return;
  const float root = std::sqrt(root2);
  for (const float t : {(-b - root) / a, (-b + root) / a}) {
    const float y = o[1] + t * d[1];
    if (t < kNear || t >= met.distance || y < part.from || y > part.to) continue;
    const Vec p = o + d * t;
    Vec normal = cv::normalize(Vec(p[0], -(part.c * y + part.b / 2), p[2]));
    if (part.hollow) normal = -normal;
    if (normal.dot(d) > 0) continue;  // the far skin of a wall is covered by its other side
    met = {t, p + pot.foot, normal, &pot, part.hollow, false, false};
  }
}

void meet_lip(const Ray& local, const Pot& pot, Meeting& met) {
  const float t = (pot.height - local.from[1]) / local.along[1];
  if (!(t > kNear && t < met.distance)) return;
  const Vec p = local.from + local.along * t;
  const float r = std::hypot(p[0], p[2]);
  if (r < pot.lip_inner || r > pot.lip_outer) return;
  const float lean = 2 * (r - pot.lip_inner) / (pot.lip_outer - pot.lip_inner) - 1;
  const Vec normal = cv::normalize(Vec(p[0] / r * lean, 0.75f, p[2] / r * lean));
  met = {t, p + pot.foot, normal, &pot, false, false, false};
}

Meeting meet(const Room& room, const Ray& ray) {
  Meeting met;
  const auto plane = [&](int axis, float at) { return (at - ray.from[axis]) / ray.along[axis]; };
  if (const float t = plane(1, 0); t > kNear && t < met.distance)
    met = {t, ray.from + ray.along * t, {0, 1, 0}, nullptr, false, true, false};
  if (const float t = plane(2, room.wall); t > kNear && t < met.distance)
    met = {t, ray.from + ray.along * t, {0, 0, 1}, nullptr, false, false, false};
  if (const float t = plane(0, kWindowX); t > kNear && t < met.distance) {
    const Vec p = ray.from + ray.along * t;
    if (p[1] > kWindowLow && p[1] < kWindowHigh && p[2] > kWindowBack && p[2] < kWindowFront)
      met = {t, p, {1, 0, 0}, nullptr, false, false, !glazing_bar(p[1], p[2])};
  }
  for (const Pot& pot : room.pots) {
    if (passes_by(ray, pot)) continue;
    const Ray local{ray.from - pot.foot, ray.along};
    for (const Turned& part : pot.wall) meet_wall(local, pot, part, met);
    meet_lip(local, pot, met);
  }
  return met;
}

Skin skin_at(const Room& room, const Meeting& met) {
  if (met.pot) return met.pot->skin(met.point - met.pot->foot, met.normal, met.inside);
  return met.table ? room.table(met.point) : room.plaster(met.point);
}

/// What light that has bounced sees: the tone without the drawing, which nobody could tell apart.
Skin plain_skin(const Room& room, const Meeting& met) {
  if (met.pot) return {met.pot->tone, 0, met.normal};
  return {met.table ? room.table_tone : room.plaster_tone, 0, met.normal};
}

Vec scattered(const Vec& normal, Dice& dice) {
  const float turn = 2 * kPi * dice.roll(), up = 2 * dice.roll() - 1, r = std::sqrt(1 - up * up);
  return cv::normalize(normal + Vec(r * std::cos(turn), up, r * std::sin(turn)) * 0.999f);
}

/// Light of the window that reaches a dull surface, by one random point of the window.
Vec from_window(const Room& room, const Vec& point, const Vec& normal, Dice& dice) {
  const Vec spot(kWindowX, std::lerp(kWindowLow, kWindowHigh, dice.roll()),
                 std::lerp(kWindowBack, kWindowFront, dice.roll()));
  const Vec way = spot - point;
  const float far2 = way.dot(way), far = std::sqrt(far2);
  const Vec along = way * (1 / far);
  const float facing = normal.dot(along), leaving = -along[0];
  if (facing <= 0 || leaving <= 0 || glazing_bar(spot[1], spot[2])) return {};
  const Meeting met = meet(room, {point, along});
  if (met.distance < far - 0.1f) return {};
  constexpr float area = (kWindowHigh - kWindowLow) * (kWindowFront - kWindowBack);
  return kDaylight * (facing * leaving * area / (kPi * far2));
}

/// Light that comes back along a ray. A window met by chance counts only where a mirror led there: dull
/// surfaces have asked for it already.
Vec light_along(const Room& room, const Ray& ray, int bounces, bool mirror, Dice& dice);

Vec mirror_light(const Room& room, const Meeting& met, const Skin& skin, const Vec& along, int bounces,
                 Dice& dice) {
  const Vec flat = along - skin.normal * (2 * along.dot(skin.normal));
  const Vec blur = Vec(dice.roll() - 0.5f, dice.roll() - 0.5f, dice.roll() - 0.5f) * 0.05f;
  return light_along(room, {met.point, cv::normalize(flat + blur)}, bounces + 1, true, dice);
}

/// Light falling on a dull surface, over its colour: from the window and from everything else.
Vec fallen_light(const Room& room, const Meeting& met, const Vec& normal, int bounces, Dice& dice) {
  const Vec direct = from_window(room, met.point, normal, dice);
  return direct + light_along(room, {met.point, scattered(normal, dice)}, bounces + 1, false, dice);
}

float coat_share(const Skin& skin, const Vec& along) {
  const float cosine = std::clamp(-along.dot(skin.normal), 0.0f, 1.0f);
  return skin.coat * (0.045f + 0.955f * std::pow(1 - cosine, 5.0f));
}

Vec light_along(const Room& room, const Ray& ray, int bounces, bool mirror, Dice& dice) {
  if (bounces >= kBounces && !mirror) return kFill;
  const Meeting met = meet(room, ray);
  if (met.window) return mirror ? kDaylight : Vec();
  if (met.distance > 1e8f || bounces >= kBounces) return kFill;
  const Skin skin = mirror ? skin_at(room, met) : plain_skin(room, met);
  if (dice.roll() < coat_share(skin, ray.along))
    return mirror_light(room, met, skin, ray.along, bounces, dice);
  return skin.colour.mul(fallen_light(room, met, skin.normal, bounces, dice));
}

/// Per pixel: colour of what is seen, light fallen on it, mirrored light, and what guides the smoothing.
struct Layers {
  explicit Layers(cv::Size size)
      : colour(size, Vec()), fallen(size, Vec()), mirrored(size, Vec()), guide(size, Vec()), depth(size, 0) {}
  cv::Mat3f colour, fallen, mirrored, guide;
  cv::Mat1f depth;
};

Ray through_lens(const Camera& camera, cv::Size size, float x, float y, Dice& dice) {
  const Vec ahead = cv::normalize(camera.target - camera.eye);
  const Vec right = cv::normalize(ahead.cross(Vec(0, 1, 0))), up = right.cross(ahead);
  const float reach = 2 * std::tan(camera.angle / 2) / static_cast<float>(std::max(size.width, size.height));
  const float h = (x - static_cast<float>(size.width) / 2) * reach,
              v = (static_cast<float>(size.height) / 2 - y) * reach;
  const Vec sharp = camera.eye + (ahead + right * h + up * v) * camera.focus;
  const float turn = 2 * kPi * dice.roll(), r = camera.aperture * std::sqrt(dice.roll());
  const Vec from = camera.eye + right * (r * std::cos(turn)) + up * (r * std::sin(turn));
  return {from, cv::normalize(sharp - from)};
}

void add_path(const Room& room, const Ray& ray, float share, Layers& layers, cv::Point at, Dice& dice) {
  const Meeting met = meet(room, ray);
  const Skin skin = skin_at(room, met);
  const float coat = coat_share(skin, ray.along);
  layers.colour(at) += skin.colour * (share * (1 - coat));
  layers.fallen(at) += fallen_light(room, met, skin.normal, 0, dice) * share;
  if (coat > 0.015f)
    layers.mirrored(at) += mirror_light(room, met, skin, ray.along, 0, dice) * (share * coat);
  layers.guide(at) += met.normal * share;
  layers.depth(at) += met.distance * share;
}

/// Smooths light where neighbours face the same way at the same depth, in rings of widening steps; the
/// colour it falls on stays as sharp as it was traced.
cv::Mat3f smoothed(const Layers& layers, const cv::Mat3f& traced, std::initializer_list<int> steps) {
  cv::Mat3f light = traced.clone(), next(traced.size());
  for (int step : steps) {
    for (int y = 0; y < light.rows; ++y)
      for (int x = 0; x < light.cols; ++x) {
        Vec sum;
        float weights = 0;
        for (int dy = -1; dy <= 1; ++dy)
          for (int dx = -1; dx <= 1; ++dx) {
            const int nx = std::clamp(x + dx * step, 0, light.cols - 1),
                      ny = std::clamp(y + dy * step, 0, light.rows - 1);
            const Vec turn = layers.guide(ny, nx) - layers.guide(y, x);
            const float gap = layers.depth(ny, nx) - layers.depth(y, x);
            const float weight = std::exp(-turn.dot(turn) * 60 - gap * gap * 0.6f);
            sum += light(ny, nx) * weight;
            weights += weight;
          }
        next(y, x) = sum * (1 / weights);
      }
    std::swap(light, next);
  }
  return light;
}

}  // namespace

cv::Mat3f trace(const Room& room, const Camera& camera, cv::Size size, int side) {
  Layers layers(size);
  const float share = 1 / static_cast<float>(side * side);
  for (int y = 0; y < size.height; ++y)
    for (int x = 0; x < size.width; ++x)
      for (int s = 0; s < side * side; ++s) {
        Dice dice(x, y, static_cast<std::uint32_t>(s));
        const float px = (static_cast<float>(s % side) + dice.roll()) / static_cast<float>(side);
        const float py = (static_cast<float>(s / side) + dice.roll()) / static_cast<float>(side);
        const Ray ray =
            through_lens(camera, size, static_cast<float>(x) + px, static_cast<float>(y) + py, dice);
        add_path(room, ray, share, layers, {x, y}, dice);
      }
  cv::Mat3f light = smoothed(layers, layers.fallen, {1, 2, 4});
  cv::multiply(light, layers.colour, light);
  cv::add(light, smoothed(layers, layers.mirrored, {1}), light);
  return light;
}

}  // namespace pictures
