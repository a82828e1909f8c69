#include "page/picture_ink.hpp"

#include <algorithm>
#include <array>

namespace frisket {
namespace {

// Measured on drawn pages with photographs at 300 dpi: these find nearly all opaque ink at a few false groups
// on ten pages.
constexpr int sharp_contrast = 24;          // levels, two pixels outside the border
constexpr double sharp_completeness = 0.7;  // of the largest difference two to four pixels outside
constexpr double sharp_share = 0.7;         // of the border
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

const std::array<cv::Point, 4>& four_ways() {
  static const std::array<cv::Point, 4> ways{{{1, 0}, {-1, 0}, {0, 1}, {0, -1}}};
  return ways;
}

/// Does the colour turn within two pixels, going from `at` along `way`?
bool turns_sharply(const cv::Mat& rgb, cv::Point at, cv::Point way) {
  const cv::Rect canvas({}, rgb.size());
  const cv::Vec3b here = rgb.at<cv::Vec3b>(at);
  int near = 0, largest = 0;
  for (int step = 2; step <= 4; ++step) {
    const cv::Point out = at + step * way;
    if (!canvas.contains(out)) break;
    const int difference = colour_step(here, rgb.at<cv::Vec3b>(out));
    if (step == 2) near = difference;
    largest = std::max(largest, difference);
  }
  return near >= sharp_contrast && near >= sharp_completeness * largest;
}

struct Border {
  int length = 0, sharp = 0;
  double share() const { return length == 0 ? 0.0 : static_cast<double>(sharp) / length; }
};

/// Borders of all zones at once; `roi_origin` is where `zones` begins on the page.
std::vector<Border> borders_of(const cv::Mat& rgb, const ZoneMap& zones, cv::Point roi_origin) {
  std::vector<Border> borders(zones.zones.size());
  const cv::Rect roi({}, zones.label.size());
  for (int y = 0; y < roi.height; ++y)
    for (int x = 0; x < roi.width; ++x) {
      const int zone = zones.label(y, x);
      if (zones.zones[zone].area < least_zone_px) continue;
      for (const cv::Point& way : four_ways()) {
        const cv::Point next = cv::Point(x, y) + way;
        if (!roi.contains(next) || zones.label(next) == zone) continue;
        ++borders[zone].length;
        borders[zone].sharp += turns_sharply(rgb, cv::Point(x, y) + roi_origin, way);
      }
    }
  return borders;
}

/// Zones that are sharp all round and large, or in company.
std::vector<bool> ink_zones(const std::vector<Zone>& zones, const std::vector<Border>& borders,
                            const Scale& scale) {
  std::vector<int> candidates;
  for (std::size_t i = 0; i < zones.size(); ++i)
    if (zones[i].area >= least_zone_px && borders[i].length > 0 && borders[i].share() >= sharp_share)
      candidates.push_back(static_cast<int>(i));
  std::vector<bool> ink(zones.size());
  const int reach = scale.whole_px(company_mm);
  const double alone = scale.square_px(scale.lossy ? alone_side_lossy_mm : alone_side_mm);
  for (const int i : candidates) {
    if (static_cast<double>(zones[i].area) >= alone) {
      ink[i] = true;
      continue;
    }
    const cv::Rect near = zones[i].box + cv::Size(2 * reach, 2 * reach) - cv::Point(reach, reach);
    int met = 0;
    for (const int j : candidates)
      met += j != i && (near & zones[j].box).area() > 0 &&
             colour_step(zones[i].colour, zones[j].colour) <= same_ink;
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

/// Adds the anti-aliased pixels that the ink covers by half or more.
void grow_to_half_coverage(const cv::Mat& roi, cv::Mat1b& mask) {
  const cv::Rect area({}, mask.size());
  for (int pass = 0; pass < 2; ++pass) {
    const cv::Mat1b before = mask.clone();
    for (int y = 0; y < mask.rows; ++y)
      for (int x = 0; x < mask.cols; ++x) {
        if (before(y, x) != 0) continue;
        for (const cv::Point& way : four_ways()) {
          const cv::Point ink = cv::Point(x, y) + way, ground = cv::Point(x, y) - 2 * way;
          if (!area.contains(ink) || !area.contains(ground) || before(ink) == 0 || before(ground) != 0)
            continue;
          const cv::Vec3b &at_ink = roi.at<cv::Vec3b>(ink), &at_ground = roi.at<cv::Vec3b>(ground);
          const int contrast = colour_step(at_ink, at_ground);
          const int left = colour_step(at_ink, roi.at<cv::Vec3b>(y, x));
          if (contrast >= sharp_contrast && left <= (1.0 - half_covered) * contrast) {
            mask(y, x) = 255;
            break;
          }
        }
      }
  }
}

}  // namespace

double sharp_border_share(const cv::Mat& rgb, const cv::Mat1i& label, int value, const cv::Rect& box) {
  Border border;
  const cv::Rect canvas({}, rgb.size());
  for (int y = box.y; y < box.y + box.height; ++y)
    for (int x = box.x; x < box.x + box.width; ++x) {
      if (label(y, x) != value) continue;
      for (const cv::Point& way : four_ways()) {
        const cv::Point next = cv::Point(x, y) + way;
        if (!canvas.contains(next) || label(next) == value) continue;
        ++border.length;
        border.sharp += turns_sharply(rgb, {x, y}, way);
      }
    }
  return border.share();
}

cv::Mat1b ink_on_picture(const cv::Mat& rgb, const SurfaceMap& map, int picture, const Scale& scale) {
  const cv::Rect box = map.of(picture).box;
  const cv::Mat roi = rgb(box);
  const ZoneMap zones = label_zones(roi, {scale.lossy ? 4 : 0, 0});
  std::vector<bool> ink = ink_zones(zones.zones, borders_of(rgb, zones, box.tl()), scale);
  keep_chosen_colours(zones.zones, ink);
  cv::Mat1b mask(box.size(), std::uint8_t{0});
  for (int y = 0; y < box.height; ++y)
    for (int x = 0; x < box.width; ++x)
      if (ink[zones.label(y, x)] && map.label(box.y + y, box.x + x) == picture) mask(y, x) = 255;
  grow_to_half_coverage(roi, mask);
  return mask;
}

}  // namespace frisket
