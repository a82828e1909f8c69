#include "page/picture_ink.hpp"

#include <algorithm>
#include <array>

#include "page/box_grid.hpp"
#include "page/label_window.hpp"
#include "page/mask_edge.hpp"
#include "page/sharpness.hpp"

namespace frisket {
namespace {

// Measured on drawn pages with photographs at 300 dpi: these find nearly all opaque ink at a few false groups
// on ten pages.
constexpr double sharp_share = 0.7;  // of the border
constexpr int least_zone_px = 3;
constexpr double alone_side_mm = 0.54;       // a zone of this size squared (40 px at 300 dpi) counts alone
constexpr double alone_side_lossy_mm = 1.2;  // JPEG makes flat specks
constexpr double company_mm = 4.0;           // smaller ones need company of their colour within this
constexpr int company = 4;
constexpr int same_ink = 8;  // levels
constexpr std::size_t few_colours = 6;
constexpr float same_colour = 12.0F;  // levels
constexpr double chosen_share = 0.1;  // of all that is flat on the picture
constexpr double half_covered = 0.5;
constexpr int least_contrast = 24;  // levels, of ink and ground, to tell how much a pixel is covered

const std::array<cv::Point, 4>& four_ways() {
  static const std::array<cv::Point, 4> ways{{{1, 0}, {-1, 0}, {0, 1}, {0, -1}}};
  return ways;
}

bool may_be_ink(const Zone& zone) {
  return zone.area >= least_zone_px && zone.border > 0 &&
         zone.sharp_border >= sharp_share * static_cast<double>(zone.border);
}

/// Zones that are sharp all round and large, or in company. All of `zones` are sharp.
std::vector<bool> ink_zones(const std::vector<Zone>& zones, const Scale& scale) {
  std::vector<PixelRect> boxes;
  for (const Zone& zone : zones)
    boxes.push_back(
        {double(zone.box.x), double(zone.box.y), double(zone.box.width), double(zone.box.height)});
  const BoxGrid grid(boxes);
  std::vector<bool> ink(zones.size());
  const int reach = scale.whole_px(company_mm);
  const double alone = scale.square_px(scale.lossy ? alone_side_lossy_mm : alone_side_mm);
  for (std::size_t i = 0; i < zones.size(); ++i) {
    if (static_cast<double>(zones[i].area) >= alone) {
      ink[i] = true;
      continue;
    }
    const cv::Rect near = zones[i].box + cv::Size(2 * reach, 2 * reach) - cv::Point(reach, reach);
    int met = 0;
    grid.near(grown(boxes[i], reach, reach), 0.0, [&](int j) {
      const Zone& other = zones[static_cast<std::size_t>(j)];
      met += static_cast<std::size_t>(j) != i && (near & other.box).area() > 0 &&
             colour_step(zones[i].colour, other.colour) <= same_ink;
    });
    ink[i] = met >= company;
  }
  return ink;
}

/// Whoever sets type on a picture takes few colours. Where flat things of many colours turn up they are the
/// picture's own (planks, blinds, foliage): only the colours that make up much of them are left.
void keep_chosen_colours(const std::vector<Zone>& zones, std::vector<bool>& ink) {
  struct Colour {
    cv::Vec3f colour;
    std::int64_t area = 0;
  };
  std::vector<Colour> colours;
  std::vector<std::size_t> of_zone(zones.size());
  std::int64_t total = 0;
  for (std::size_t i = 0; i < zones.size(); ++i) {
    if (!ink[i]) continue;
    const auto same = std::ranges::find_if(
        colours, [&](const Colour& c) { return colour_step(c.colour, zones[i].colour) <= same_colour; });
    of_zone[i] = static_cast<std::size_t>(same - colours.begin());
    if (same == colours.end()) colours.push_back({zones[i].colour, 0});
    colours[of_zone[i]].area += zones[i].area;
    total += zones[i].area;
  }
  if (colours.size() <= few_colours) return;
  for (std::size_t i = 0; i < zones.size(); ++i)
    if (ink[i] && static_cast<double>(colours[of_zone[i]].area) < chosen_share * static_cast<double>(total))
      ink[i] = false;
}

/// Adds the anti-aliased pixels that the ink covers by half or more, one pixel on at most.
class HalfCovered {
 public:
  HalfCovered(const cv::Mat& roi, const LabelMap& ink) : roi_(roi), ink_(ink), window_(ink) {}

  LabelMap run() {
    LabelMap grown(ink_.size(), 0);
    std::vector<Run> row;
    for (int y = 0; y < roi_.rows; ++y) {
      window_.move_to(y);
      row.assign(ink_.row(y).begin(), ink_.row(y).end());
      const std::size_t before = row.size();
      if (mark_near(y))
        for (int x = 0; x < roi_.cols; ++x)
          if (near_[static_cast<std::size_t>(x)] != 0 && window_(y, x) == 0 && is_covered({x, y}))
            row.push_back({x, x + 1, 1});
      if (row.size() > before) std::ranges::sort(row, {}, &Run::begin);
      grown.add_row(row);
    }
    return grown;
  }

 private:
  /// Marks where ink lies above, below or beside; false where there is none.
  bool mark_near(int y) {
    near_.assign(static_cast<std::size_t>(roi_.cols), 0);
    bool any = false;
    for (const int dy : {-1, 0, 1}) {
      if (y + dy < 0 || y + dy >= roi_.rows) continue;
      const int beside = dy == 0 ? 1 : 0;
      for (const Run& run : ink_.row(y + dy)) {
        std::fill(near_.begin() + std::max(0, run.begin - beside),
                  near_.begin() + std::min(roi_.cols, run.end + beside), std::uint8_t{1});
        any = true;
      }
    }
    return any;
  }

  bool is_covered(cv::Point at) const {
    const cv::Rect area({}, roi_.size());
    for (const cv::Point& way : four_ways()) {
      const cv::Point ink = at + way, ground = at - 2 * way;
      if (!area.contains(ink) || !area.contains(ground) || window_(ink.y, ink.x) == 0 ||
          window_(ground.y, ground.x) != 0)
        continue;
      const cv::Vec3b &at_ink = roi_.at<cv::Vec3b>(ink), &at_ground = roi_.at<cv::Vec3b>(ground);
      const int contrast = colour_step(at_ink, at_ground);
      const int left = colour_step(at_ink, roi_.at<cv::Vec3b>(at));
      if (contrast >= least_contrast && left <= (1.0 - half_covered) * contrast) return true;
    }
    return false;
  }

  const cv::Mat& roi_;
  const LabelMap& ink_;
  LabelWindow window_;
  std::vector<std::uint8_t> near_;
};

/// The zones that are ink, as far as they lie on the surface.
LabelMap ink_of(const ZoneMap& zones, const std::vector<bool>& ink, const LabelMap& surfaces, int surface,
                cv::Point origin) {
  LabelMap mask(zones.label.size(), 0);
  std::vector<Run> row;
  for (int y = 0; y < mask.rows; ++y) {
    row.clear();
    for (const Run& run : zones.label.row(y)) {
      if (!ink[static_cast<std::size_t>(run.label)]) continue;
      for (const Run& ground : surfaces.row(origin.y + y)) {
        const int from = std::max(run.begin, ground.begin - origin.x);
        const int to = std::min(run.end, ground.end - origin.x);
        if (ground.label == surface && from < to) row.push_back({from, to, 1});
      }
    }
    mask.add_row(row);
  }
  return mask;
}

}  // namespace

double sharp_border_share(const cv::Mat& rgb, const cv::Mat1b& thing, cv::Point origin) {
  int length = 0, sharp = 0;
  const cv::Rect canvas({}, rgb.size()), area({}, thing.size());
  std::vector<std::uint8_t> edge;
  for (int y = 0; y < thing.rows; ++y)
    each_edge_pixel(thing, y, edge, [&](int x) {
      for (const cv::Point& way : four_ways()) {
        const cv::Point next = cv::Point(x, y) + way;
        if (!canvas.contains(next + origin) || (area.contains(next) && thing(next) != 0)) continue;
        ++length;
        sharp += turns_sharply(rgb, cv::Point(x, y) + origin, way);
      }
    });
  return length == 0 ? 0.0 : static_cast<double>(sharp) / length;
}

const ZoneMap& SharpZones::in(const cv::Rect& box) {
  const auto known = std::ranges::find(labelled_, box, &Labelled::box);
  if (known != labelled_.end()) return known->zones;
  const KeptZones kept{may_be_ink, least_zone_px, true};
  labelled_.push_back({box, label_zones(rgb_, box, {scale_.lossy ? 4 : 0, 0}, kept)});
  return labelled_.back().zones;
}

LabelMap ink_on_picture(const cv::Mat& rgb, const SurfaceMap& map, int picture, const Scale& scale,
                        SharpZones& sharp) {
  const cv::Rect box = map.of(picture).box;
  const ZoneMap& zones = sharp.in(box);
  std::vector<bool> ink = ink_zones(zones.zones, scale);
  keep_chosen_colours(zones.zones, ink);
  LabelMap mask = ink_of(zones, ink, map.label, picture, box.tl());
  for (int pass = 0; pass < 2; ++pass) mask = HalfCovered(rgb(box), mask).run();
  return mask;
}

}  // namespace frisket
