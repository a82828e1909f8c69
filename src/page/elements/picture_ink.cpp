#include "page/elements/picture_ink.hpp"

#include <algorithm>

#include "page/elements/ink_colours.hpp"
#include "page/elements/ink_growth.hpp"
#include "page/zones/box_grid.hpp"
#include "page/zones/sharpness.hpp"

namespace frisket {
namespace {

// Measured on drawn pages with photographs at 300 dpi: these find nearly all opaque ink at a few false groups
// on ten pages.
constexpr double sharp_share = 0.7;  // of the border
constexpr double sharp_share_lossy = 0.75;
constexpr int lossy_step = 8;  // levels, from pixel to pixel of one ink
constexpr InkSpread exact_spread{0, 12}, lossy_spread{6, 24};
constexpr int least_zone_px = 3;
constexpr double alone_side_mm = 0.54;       // a zone of this size squared (40 px at 300 dpi) counts alone
constexpr double alone_side_lossy_mm = 1.2;  // JPEG makes flat specks
constexpr double company_mm = 4.0;           // smaller ones need company of their colour within this
constexpr int company = 4;
constexpr int same_ink = 8;  // levels

bool may_be_ink(const Zone& zone, const Scale& scale) {
  return zone.area >= least_zone_px && zone.border > 0 &&
         zone.sharp_border >=
             (scale.lossy ? sharp_share_lossy : sharp_share) * static_cast<double>(zone.border);
}

/// From one side of the picture to the other, as planks and blinds do.
bool runs_across(const Zone& zone, cv::Size picture) {
  constexpr int slack = 2;
  return zone.box.width >= picture.width - slack || zone.box.height >= picture.height - slack;
}

/// JPEG keeps lightness better than hue, and hue often at half the resolution (ITU-T T.81): in YCbCr with
/// both differences of colour halved, ink stays of one colour and its border sharp.
cv::Mat lightness_first(const cv::Mat& rgb) {
  cv::Mat seen;
  cv::cvtColor(rgb, seen, cv::COLOR_RGB2YCrCb);
  cv::transform(seen, seen, cv::Matx34f(1, 0, 0, 0, 0, 0.5F, 0, 64, 0, 0, 0.5F, 64));
  return seen;
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

/// Is enough of what has a zone's colour, there and nearby, as sharp as it is? Ink is read by standing out
/// from what is round it. Specks of grain, and the ground in a letter's counter, lie among more of their own
/// colour. That is told from a lattice of places.
bool stands_out(const cv::Mat& seen, const ZoneMap& zones, const Zone& zone, const Scale& scale) {
  constexpr double nearby_mm = 2.0;
  constexpr int places = 24;     // across and down
  constexpr int most_other = 2;  // times what is sharp: on coarse JPEG pages many a letter is not
  constexpr float same = 12.0F;  // levels, half of the least contrast of ink
  const int nearby = scale.whole_px(nearby_mm);
  const cv::Size more(zone.box.width / 2 + nearby, zone.box.height / 2 + nearby);
  const cv::Rect round =
      (zone.box + more * 2 - cv::Point(more.width, more.height)) & cv::Rect({}, seen.size());
  const cv::Size step(std::max(1, round.width / places), std::max(1, round.height / places));
  int sharp = 0, other = 0;
  for (int y = round.y + step.height / 2; y < round.br().y; y += step.height)
    for (int x = round.x + step.width / 2; x < round.br().x; x += step.width)
      if (colour_step(cv::Vec3f(seen.at<cv::Vec3b>(y, x)), zone.colour) <= same)
        ++(zones.label(y, x) >= 0 ? sharp : other);
  return other <= most_other * sharp;
}

/// Pixels of each zone that lie on the surfaces that `is_one` says.
template <class IsOne>
std::vector<std::int64_t> areas_on(const LabelMap& surfaces, const ZoneMap& zones, cv::Point origin,
                                   IsOne&& is_one) {
  std::vector<std::int64_t> area(zones.zones.size());
  for (int y = 0; y < zones.label.rows; ++y) {
    const std::span<const Run> grounds = surfaces.row(origin.y + y);
    auto ground = grounds.begin();
    for (const Run& run : zones.label.row(y)) {
      while (ground != grounds.end() && ground->end <= run.begin + origin.x) ++ground;
      for (auto on = ground; on != grounds.end() && on->begin < run.end + origin.x; ++on)
        if (is_one(on->label))
          area[static_cast<std::size_t>(run.label)] +=
              std::min(run.end + origin.x, on->end) - std::max(run.begin + origin.x, on->begin);
    }
  }
  return area;
}

/// The zones that are ink, as far as they lie on the surface; numbered from 1.
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
        if (ground.label == surface && from < to) row.push_back({from, to, run.label + 1});
      }
    }
    mask.add_row(row);
  }
  return mask;
}

}  // namespace

double sharp_border_share(const cv::Mat& rgb, const cv::Mat1b& thing, cv::Point origin, int latest_turn) {
  int length = 0, sharp = 0;
  const cv::Rect canvas({}, rgb.size()), area({}, thing.size());
  for (int y = 0; y < thing.rows; ++y)
    for (int x = 0; x < thing.cols; ++x) {
      if (thing(y, x) == 0) continue;
      for (const cv::Point& way : four_ways) {
        const cv::Point next = cv::Point(x, y) + way;
        if (!canvas.contains(next + origin) || (area.contains(next) && thing(next) != 0)) continue;
        if (latest_turn > 0 && is_beside_speck(rgb, cv::Point(x, y) + origin, way)) continue;
        ++length;
        sharp += turns_sharply(rgb, cv::Point(x, y) + origin, way, latest_turn);
      }
    }
  return length == 0 ? 0.0 : static_cast<double>(sharp) / length;
}

const SharpZones::OfBox& SharpZones::in(const cv::Rect& box) {
  const auto known = std::ranges::find(looked_at_, box, &OfBox::box);
  if (known != looked_at_.end()) return *known;
  const cv::Mat seen = scale_.lossy ? lightness_first(rgb_(box)) : rgb_(box);
  const KeptZones kept{[&](const Zone& zone) { return may_be_ink(zone, scale_); },
                       least_zone_px,
                       true,
                       {},
                       latest_turn_px(scale_.lossy)};
  looked_at_.push_back(
      {box, seen, label_zones(seen, {{}, box.size()}, {scale_.lossy ? lossy_step : 0, 0}, kept)});
  return looked_at_.back();
}

LabelMap ink_on_picture(const SurfaceMap& map, int picture, const Scale& scale, SharpZones& sharp) {
  const cv::Rect box = map.of(picture).box;
  const auto& [where, seen, zones] = sharp.in(box);
  const std::vector<std::int64_t> area =
      areas_on(map.label, zones, box.tl(), [&](int surface) { return surface == picture; });
  const std::vector<std::int64_t> on_other_grounds = areas_on(map.label, zones, box.tl(), [&](int surface) {
    return surface > 0 && surface != picture && map.of(surface).bleeds;
  });
  std::vector<bool> ink = ink_zones(zones.zones, scale);
  // The rim of a ground beside the picture is no ink on it.
  for (std::size_t i = 0; i < ink.size(); ++i)
    ink[i] = ink[i] && area[i] > 0 && 2 * on_other_grounds[i] <= zones.zones[i].area &&
             !runs_across(zones.zones[i], box.size()) &&
             (!scale.lossy || stands_out(seen, zones, zones.zones[i], scale));
  const double alone = scale.square_px(scale.lossy ? alone_side_lossy_mm : alone_side_mm);
  keep_ink_colours(zones.zones, area, scale.lossy ? lossy_spread : exact_spread, alone, ink);
  LabelMap mask = ink_of(zones, ink, map.label, picture, box.tl());
  std::vector<cv::Vec3f> colours;
  for (const Zone& zone : zones.zones) colours.push_back(zone.colour);
  mask = grow_ink(seen, std::move(mask), colours);
  return renumbered(mask, std::vector<int>(zones.zones.size() + 1, 1), 0);
}

}  // namespace frisket
