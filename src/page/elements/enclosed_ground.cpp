#include "page/elements/enclosed_ground.hpp"

#include <algorithm>
#include <vector>

namespace frisket {
namespace {

constexpr int outside_px = 3;  // from the box to where the ground is looked at
constexpr int samples_a_side = 16;
constexpr float same_colour = 8.0F;    // levels
constexpr int soft_step = 8;           // levels from one pixel to the next, as in soft_rims.cpp
constexpr int mixed_px = 3;            // at the ends of a row, where the letter's border lies
constexpr double least_soft = 0.95;    // of the steps inside a shadow
constexpr double least_ground = 0.05;  // of its pixels are of the ground's own colour

/// The colours of the canvas all round a box, a few pixels outside.
std::vector<cv::Vec3f> colours_round(const cv::Mat& rgb, const cv::Rect& box) {
  const cv::Rect canvas({}, rgb.size());
  const int left = box.x - outside_px, right = box.br().x - 1 + outside_px;
  const int top = box.y - outside_px, bottom = box.br().y - 1 + outside_px;
  std::vector<cv::Vec3f> colours;
  for (int i = 0; i < samples_a_side; ++i) {
    const int x = box.x + box.width * (2 * i + 1) / (2 * samples_a_side);
    const int y = box.y + box.height * (2 * i + 1) / (2 * samples_a_side);
    for (const cv::Point at :
         {cv::Point(x, top), cv::Point(x, bottom), cv::Point(left, y), cv::Point(right, y)})
      if (canvas.contains(at)) colours.emplace_back(rgb.at<cv::Vec3b>(at));
  }
  return colours;
}

/// The colour in the middle above a box, or below it where the canvas ends above.
cv::Vec3f colour_beside(const cv::Mat& rgb, const cv::Rect& box) {
  const int above = box.y - outside_px, below = std::min(box.br().y - 1 + outside_px, rgb.rows - 1);
  return rgb.at<cv::Vec3b>(above >= 0 ? above : below, box.x + box.width / 2);
}

bool is_among(const std::vector<cv::Vec3f>& colours, const cv::Vec3f& colour) {
  return std::ranges::any_of(colours,
                             [&](const cv::Vec3f& c) { return colour_step(c, colour) <= same_colour; });
}

/// Is a surface inside the box of the colours that lie opposite to it, outside? So a gradient goes on below a
/// frame, whatever its mean colour is.
bool goes_on_inside(const cv::Mat& rgb, const cv::Rect& box, const SurfaceMap& surfaces, int surface) {
  const cv::Rect canvas({}, rgb.size());
  int pairs = 0, alike = 0;
  const auto compare = [&](cv::Point edge, cv::Point inwards, int depth) {
    const cv::Point outside = edge - outside_px * inwards;
    if (!canvas.contains(outside)) return;
    cv::Point inside = edge;
    while (depth > 0 && surfaces.label(inside) != surface) inside += inwards, --depth;
    if (depth <= mixed_px) return;
    inside += mixed_px * inwards;
    ++pairs;
    alike += colour_step(cv::Vec3f(rgb.at<cv::Vec3b>(outside)), cv::Vec3f(rgb.at<cv::Vec3b>(inside))) <=
             same_colour;
  };
  for (int i = 0; i < samples_a_side; ++i) {
    const int x = box.x + box.width * (2 * i + 1) / (2 * samples_a_side);
    const int y = box.y + box.height * (2 * i + 1) / (2 * samples_a_side);
    compare({x, box.y}, {0, 1}, box.height / 4);
    compare({x, box.br().y - 1}, {0, -1}, box.height / 4);
    compare({box.x, y}, {1, 0}, box.width / 4);
    compare({box.br().x - 1, y}, {-1, 0}, box.width / 4);
  }
  return pairs >= 2 * samples_a_side && 4 * alike >= 3 * pairs;
}

/// Has it a border all round? What fills its box to the end, as the ground inside a ring does, is no frame.
bool is_inset(const cv::Rect& surface, const cv::Rect& box) {
  return surface.x > box.x + 1 && surface.y > box.y + 1 && surface.br().x < box.br().x - 1 &&
         surface.br().y < box.br().y - 1;
}

}  // namespace

bool stands_on_picture(const cv::Rect& box, const SurfaceMap& surfaces) {
  const cv::Rect canvas({}, surfaces.label.size());
  const int left = box.x - outside_px, right = box.br().x + outside_px, middle_x = box.x + box.width / 2;
  const int top = box.y - outside_px, bottom = box.br().y + outside_px, middle_y = box.y + box.height / 2;
  int on_picture = 0;
  for (const cv::Point at : {cv::Point(middle_x, top), cv::Point(middle_x, bottom), cv::Point(left, middle_y),
                             cv::Point(right, middle_y)}) {
    const int surface = canvas.contains(at) ? surfaces.label(at) : 0;
    on_picture += surface != 0 && surfaces.of(surface).kind == Surface::Kind::picture;
  }
  return on_picture >= 3;
}

std::int64_t enclosed_ground(const cv::Mat& rgb, const cv::Rect& box, const SurfaceMap& surfaces,
                             const std::map<int, std::int64_t>& areas) {
  std::int64_t inside = 0;
  for (const auto& [number, area] : areas) inside += area;
  // A picture with a white part is no frame: a frame encloses most of its box.
  if (2 * inside <= box.area()) return 0;
  const std::vector<cv::Vec3f> round = colours_round(rgb, box);
  const cv::Vec3f beside = colour_beside(rgb, box);
  const bool on_picture = stands_on_picture(box, surfaces);
  std::int64_t enclosed = 0;
  for (const auto& [number, area] : areas) {
    const Surface& surface = surfaces.of(number);
    const bool is_most = 2 * area > box.area();
    if (surface.kind == Surface::Kind::picture ? is_most && on_picture
        : is_inset(surface.box, box)
            ? is_among(round, surface.colour) || goes_on_inside(rgb, box, surfaces, number)
            : is_most && colour_step(surface.colour, beside) <= same_colour)
      enclosed += area;
  }
  return 2 * enclosed > box.area() ? enclosed : 0;
}

bool is_shadowed_counter(const cv::Mat& rgb, const cv::Rect& box, const SurfaceMap& surfaces, int surface) {
  const cv::Rect& area = surfaces.of(surface).box;
  if ((area & box) != area || area.size() == box.size()) return false;
  const std::vector<cv::Vec3f> round = colours_round(rgb, box);
  int steps = 0, soft = 0, pixels = 0, ground = 0;
  for (int y = area.y; y < area.br().y; ++y) {
    const cv::Vec3b* row = rgb.ptr<cv::Vec3b>(y);
    for (const Run& run : surfaces.label.row(y)) {
      if (run.label != surface) continue;
      for (int x = run.begin + mixed_px; x < run.end - mixed_px; ++x) {
        ++steps;
        soft += colour_step(cv::Vec3f(row[x - 1]), cv::Vec3f(row[x])) <= soft_step;
        if (x % 4 != 0) continue;
        ++pixels;
        ground += is_among(round, cv::Vec3f(row[x]));
      }
    }
  }
  return steps > 0 && soft >= least_soft * steps && ground >= least_ground * pixels;
}

}  // namespace frisket
