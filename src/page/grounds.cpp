#include "page/grounds.hpp"

#include <array>

namespace frisket {
namespace {

constexpr double field_side_mm = 3.0;          // smaller flat things are ink, not ground
constexpr double contact_mm = 1.0;             // along the canvas edge, to bleed
constexpr double second_difference_mm = 0.34;  // reach of the second difference: 4 px at 300 dpi
constexpr double strip_contact_mm =
    4.0;  // along the canvas edge, for a strip of paper that is too thin for a field
constexpr double strip_depth_px = 1.5;  // mean; a row of rounding at the canvas edge is thinner
constexpr double block_mm = 1.35;       // 16 px at 300 dpi

// Share of grainy second differences below which a zone was drawn. Measured on rendered pages at 300 dpi:
// fields and gradients below 0.0002, photographs 0.15 to 0.9.
constexpr double drawn_share = 0.03;
constexpr double drawn_share_lossy = 0.07;
constexpr double least_judged_share = 0.02;
constexpr double least_strip_judged = 0.1;  // of its pixels, along it; a quarter of them are looked at

ZoneRule smooth_rule(const Scale& scale) { return scale.lossy ? ZoneRule{6, 16} : ZoneRule{2, 12}; }

/// Second differences inside a zone: how many were looked at along x and along y, and how many were more than
/// rounding.
struct Grain {
  int across = 0, down = 0, grainy = 0;
};

bool may_be_surface(const Zone& zone, const Scale& scale) {
  return static_cast<double>(zone.area) >= scale.square_px(field_side_mm) ||
         zone.canvas_contact >= scale.px(strip_contact_mm);
}

std::vector<Grain> grain_of_zones(const cv::Mat& rgb, const ZoneMap& zones, const Scale& scale) {
  const int reach = scale.whole_px(second_difference_mm);
  const int limit = scale.lossy ? 8 : 2;
  std::vector<Grain> grains(zones.zones.size());
  const auto grain = [&](const cv::Vec3b& a, const cv::Vec3b& b, const cv::Vec3b& c) {
    for (int i = 0; i < 3; ++i)
      if (std::abs(a[i] - 2 * b[i] + c[i]) > limit) return 1;
    return 0;
  };
  for (int y = 0; y < rgb.rows; y += 2) {
    const int* labels = zones.label[y];
    const cv::Vec3b* row = rgb.ptr<cv::Vec3b>(y);
    const bool has_rows = y >= reach && y < rgb.rows - reach;
    for (int x = 0; x < rgb.cols; x += 2) {
      const int zone = labels[x];
      if (!may_be_surface(zones.zones[zone], scale)) continue;
      Grain& found = grains[zone];
      if (x >= reach && x < rgb.cols - reach && labels[x - reach] == zone && labels[x + reach] == zone)
        ++found.across, found.grainy += grain(row[x - reach], row[x], row[x + reach]);
      if (has_rows && zones.label(y - reach, x) == zone && zones.label(y + reach, x) == zone)
        ++found.down,
            found.grainy += grain(rgb.at<cv::Vec3b>(y - reach, x), row[x], rgb.at<cv::Vec3b>(y + reach, x));
    }
  }
  return grains;
}

bool is_smooth(const Grain& grain, const Scale& scale) {
  return grain.grainy < (scale.lossy ? drawn_share_lossy : drawn_share) * (grain.across + grain.down);
}

/// Thin in either direction, as a rule or an anti-aliased row of pixels is, there is nothing to stand on.
bool is_field(const Zone& zone, const Grain& grain, const Scale& scale) {
  const double area = static_cast<double>(zone.area);
  return area >= scale.square_px(field_side_mm) &&
         std::min(grain.across, grain.down) > least_judged_share * area && is_smooth(grain, scale);
}

/// A thin strip of one colour along the canvas edge: what is left of the paper where colour stops short of
/// it.
bool is_edge_strip(const Zone& zone, const Grain& grain, const Scale& scale) {
  return zone.canvas_contact >= scale.px(strip_contact_mm) &&
         static_cast<double>(zone.area) >= strip_depth_px * zone.canvas_contact &&
         std::max(grain.across, grain.down) > least_strip_judged * static_cast<double>(zone.area) &&
         is_smooth(grain, scale);
}

Surface field_of(const Zone& zone, const Scale& scale) {
  return {Surface::Kind::field,
          zone.area,
          zone.box,
          zone.colour,
          zone.canvas_contact,
          zone.canvas_contact >= scale.px(contact_mm),
          false};
}

/// Is `mixed` between the two colours on every channel, a little slack allowed?
bool mixes(const cv::Vec3b& mixed, const cv::Vec3b& a, const cv::Vec3b& b) {
  constexpr int slack = 4;
  for (int i = 0; i < 3; ++i)
    if (mixed[i] < std::min(a[i], b[i]) - slack || mixed[i] > std::max(a[i], b[i]) + slack) return false;
  return true;
}

/// Blocks with the texture of a photograph (255) or of a soft one (128), one pixel a block.
cv::Mat1b textured_blocks(const cv::Mat& rgb, const SurfaceMap& map, int side) {
  cv::Mat1b grey;
  cv::cvtColor(rgb, grey, cv::COLOR_RGB2GRAY);
  cv::Mat1b blocks(std::max(1, rgb.rows / side), std::max(1, rgb.cols / side), std::uint8_t{0});
  for (int by = 0; by < blocks.rows; ++by)
    for (int bx = 0; bx < blocks.cols; ++bx) {
      std::array<int, 256> count{};
      int field = 0, lowest = 255, highest = 0, total = 0;
      for (int y = by * side; y < std::min(rgb.rows, (by + 1) * side); ++y)
        for (int x = bx * side; x < std::min(rgb.cols, (bx + 1) * side); ++x) {
          const int level = grey(y, x);
          ++count[level], ++total;
          field += map.label(y, x) != 0;
          lowest = std::min(lowest, level), highest = std::max(highest, level);
        }
      if (2 * field > total) continue;
      const int levels = static_cast<int>(std::ranges::count_if(count, [](int n) { return n > 0; }));
      const double mode = *std::ranges::max_element(count) / static_cast<double>(total);
      if (levels >= 10 && mode < 0.25)
        blocks(by, bx) = 255;
      else if (levels >= 3 && highest - lowest < 70 && mode < 0.85)
        blocks(by, bx) = 128;
    }
  return blocks;
}

/// Takes the connected remainders that are mostly photographic texture as pictures.
void find_picture_surfaces(const cv::Mat& rgb, const Scale& scale, SurfaceMap& map) {
  const int side = scale.whole_px(block_mm);
  const cv::Mat1b blocks = textured_blocks(rgb, map, side);
  cv::Mat labels, stats, centroids;
  const int count = cv::connectedComponentsWithStats(map.label == 0, labels, stats, centroids, 8, CV_32S);
  struct Texture {
    int core = 0, soft = 0;
    std::int64_t pixels = 0;
    cv::Vec3d sum;
    int contact = 0;
  };
  std::vector<Texture> textures(static_cast<std::size_t>(count));
  for (int y = 0; y < rgb.rows; ++y)
    for (int x = 0; x < rgb.cols; ++x) {
      const int component = labels.at<int>(y, x);
      if (component == 0) continue;
      Texture& texture = textures[component];
      const int kind = blocks(std::min(y / side, blocks.rows - 1), std::min(x / side, blocks.cols - 1));
      texture.pixels += kind != 0;
      if (y % side == side / 2 && x % side == side / 2)
        texture.core += kind == 255, texture.soft += kind == 128;
      texture.sum += rgb.at<cv::Vec3b>(y, x);
      texture.contact += y == 0 || x == 0 || y == rgb.rows - 1 || x == rgb.cols - 1;
    }
  std::vector<int> surface_of(static_cast<std::size_t>(count));
  for (int i = 1; i < count; ++i) {
    const Texture& texture = textures[i];
    const int area = stats.at<int>(i, cv::CC_STAT_AREA);
    const bool enough = texture.core >= 8 || texture.soft + texture.core >= 120;
    if (!enough || static_cast<double>(texture.pixels) < 0.4 * area) continue;
    Surface surface;
    surface.kind = Surface::Kind::picture;
    surface.area = area;
    surface.box = {stats.at<int>(i, cv::CC_STAT_LEFT), stats.at<int>(i, cv::CC_STAT_TOP),
                   stats.at<int>(i, cv::CC_STAT_WIDTH), stats.at<int>(i, cv::CC_STAT_HEIGHT)};
    surface.colour = texture.sum / area;
    surface.canvas_contact = texture.contact;
    surface.bleeds = texture.contact >= scale.px(contact_mm);
    map.surfaces.push_back(surface);
    surface_of[i] = static_cast<int>(map.surfaces.size());
  }
  for (int y = 0; y < rgb.rows; ++y)
    for (int x = 0; x < rgb.cols; ++x)
      if (const int component = labels.at<int>(y, x); component != 0 && surface_of[component] != 0)
        map.label(y, x) = surface_of[component];
}

}  // namespace

void close_seams(const cv::Mat& rgb, SurfaceMap& map) {
  static const std::array<cv::Point, 4> ways{{{1, 0}, {0, 1}, {1, 1}, {1, -1}}};
  const cv::Mat1i before = map.label.clone();
  const cv::Rect canvas({}, rgb.size());
  const auto first_field = [&](cv::Point from, cv::Point way) {
    for (int step = 1; step <= 2; ++step) {
      const cv::Point at = from + step * way;
      if (!canvas.contains(at)) return cv::Point(-1, -1);
      if (before(at) != 0) return at;
    }
    return cv::Point(-1, -1);
  };
  for (int y = 0; y < rgb.rows; ++y)
    for (int x = 0; x < rgb.cols; ++x) {
      if (before(y, x) != 0) continue;
      for (const cv::Point& way : ways) {
        const cv::Point a = first_field({x, y}, way), b = first_field({x, y}, -way);
        if (a.x < 0 || b.x < 0 || before(a) == before(b)) continue;
        const cv::Vec3b &here = rgb.at<cv::Vec3b>(y, x), &at_a = rgb.at<cv::Vec3b>(a),
                        &at_b = rgb.at<cv::Vec3b>(b);
        if (!mixes(here, at_a, at_b)) continue;
        map.label(y, x) = colour_step(here, at_a) <= colour_step(here, at_b) ? before(a) : before(b);
        break;
      }
    }
}

bool is_paper(const Surface& surface) {
  constexpr float white = 252.0F;
  return surface.kind == Surface::Kind::field && surface.colour[0] >= white && surface.colour[1] >= white &&
         surface.colour[2] >= white;
}

SurfaceMap find_surfaces(const cv::Mat& rgb, const Scale& scale) {
  const ZoneMap zones = label_zones(rgb, smooth_rule(scale));
  const std::vector<Grain> grains = grain_of_zones(rgb, zones, scale);
  SurfaceMap map;
  std::vector<int> surface_of(zones.zones.size());
  for (std::size_t i = 0; i < zones.zones.size(); ++i) {
    const Zone& zone = zones.zones[i];
    if (!is_field(zone, grains[i], scale) && !is_edge_strip(zone, grains[i], scale)) continue;
    map.surfaces.push_back(field_of(zone, scale));
    surface_of[i] = static_cast<int>(map.surfaces.size());
  }
  map.label.create(rgb.size());
  for (int y = 0; y < rgb.rows; ++y)
    for (int x = 0; x < rgb.cols; ++x) map.label(y, x) = surface_of[zones.label(y, x)];
  close_seams(rgb, map);
  find_picture_surfaces(rgb, scale, map);
  return map;
}

}  // namespace frisket
