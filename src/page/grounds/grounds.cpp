#include "page/grounds/grounds.hpp"

#include <array>
#include <cmath>

#include "page/grounds/bands.hpp"
#include "page/grounds/boards.hpp"
#include "page/grounds/grain.hpp"
#include "page/grounds/lattice_ground.hpp"
#include "page/grounds/seams.hpp"
#include "page/zones/on_all_cores.hpp"
#include "page/zones/run_components.hpp"

namespace frisket {
namespace {

constexpr double field_side_mm = 3.0;     // smaller flat things are ink, not ground
constexpr double banded_side_mm = 10.0;   // of the square of the area of a gradient in steps
constexpr double picture_depth_mm = 6.0;  // area by diagonal, mm
constexpr double contact_mm = 1.0;        // along the canvas edge, to bleed
constexpr double strip_contact_mm =
    4.0;  // along the canvas edge, for a strip of paper that is too thin for a field
constexpr double strip_depth_px = 1.5;  // mean
constexpr double block_mm = 1.35;       // 16 px at 300 dpi

constexpr double least_judged_share = 0.02;
constexpr double least_strip_judged = 0.1;  // of its pixels, along it; a quarter of them are looked at

/// A ramp turns by twice its step from one side of a pixel to the other; more is a border.
ZoneRule smooth_rule(const Scale& scale) { return scale.lossy ? ZoneRule{6, 16} : ZoneRule{2, 12, 24}; }

bool may_be_surface(const Zone& zone, const Scale& scale) {
  return static_cast<double>(zone.area) >= scale.square_px(field_side_mm) ||
         zone.canvas_contact >= scale.px(strip_contact_mm);
}

/// Thin in either direction, as a rule or an anti-aliased row of pixels is, there is nothing to stand on.
bool is_thick(const Zone& zone, const Grain& grain) {
  return std::min(grain.across, grain.down) > least_judged_share * static_cast<double>(zone.area);
}

/// Of stripes and other narrow things on a JPEG page ringing is a large part.
bool is_narrow(const Zone& zone, const Scale& scale) {
  return static_cast<double>(zone.area) <
         scale.px(picture_depth_mm) * std::hypot(zone.box.width, zone.box.height);
}

/// A picture out of focus on a JPEG page.
bool is_out_of_focus(const Zone& zone, const Grain& grain, const Scale& scale) {
  return scale.lossy && !is_narrow(zone, scale) && !grain.is_calm();
}

bool is_drawn(const Zone& zone, const Grain& grain, const Scale& scale) {
  return grain.is_smooth(scale) ||
         (scale.lossy && is_narrow(zone, scale) && grain.is_smooth_but_for_ringing());
}

/// Rounding leaves a row of pixels along the canvas edge, round a corner too.
bool is_row_at_edge(const Zone& zone) {
  return static_cast<double>(zone.area) < strip_depth_px * zone.canvas_contact;
}

bool is_field(const Zone& zone, const Grain& grain, const Scale& scale) {
  return static_cast<double>(zone.area) >= scale.square_px(field_side_mm) && is_thick(zone, grain) &&
         !is_row_at_edge(zone) && is_drawn(zone, grain, scale);
}

/// A thin strip of one colour along the canvas edge: what is left of the paper where colour stops short of
/// it.
bool is_edge_strip(const Zone& zone, const Grain& grain, const Scale& scale) {
  return zone.canvas_contact >= scale.px(strip_contact_mm) && !is_row_at_edge(zone) &&
         std::max(grain.across, grain.down) > least_strip_judged * static_cast<double>(zone.area) &&
         grain.is_smooth(scale);
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

/// A block's levels of grey.
std::uint8_t texture_of(const cv::Mat1b& block) {
  std::array<int, 256> count{};
  for (int y = 0; y < block.rows; ++y)
    for (int x = 0; x < block.cols; ++x) ++count[block(y, x)];
  int levels = 0, most = 0, lowest = 255, highest = 0;
  for (int level = 0; level < 256; ++level) {
    const int pixels = count[static_cast<std::size_t>(level)];
    if (pixels == 0) continue;
    ++levels, most = std::max(most, pixels);
    lowest = std::min(lowest, level), highest = level;
  }
  const double mode = most / static_cast<double>(block.total());
  if (levels >= 10 && mode < 0.25) return 255;
  return levels >= 3 && highest - lowest < 70 && mode < 0.85 ? 128 : 0;
}

/// One row of blocks: those of the page's `rows`.
void judge_blocks(const cv::Mat& rgb, const SurfaceMap& map, int side, cv::Range rows, cv::Mat1b blocks) {
  std::vector<int> field(static_cast<std::size_t>(blocks.cols));
  for (int y = rows.start; y < rows.end; ++y)
    for (const Run& run : map.label.row(y))
      for (int bx = run.begin / side; bx < blocks.cols && bx * side < run.end; ++bx)
        field[static_cast<std::size_t>(bx)] +=
            std::min(run.end, (bx + 1) * side) - std::max(run.begin, bx * side);
  cv::Mat1b grey;
  for (int bx = 0; bx < blocks.cols; ++bx) {
    const cv::Rect block(bx * side, 0, std::min(side, rgb.cols - bx * side), rows.size());
    if (2 * field[static_cast<std::size_t>(bx)] > block.area()) continue;
    if (grey.empty()) cv::cvtColor(rgb.rowRange(rows), grey, cv::COLOR_RGB2GRAY);
    blocks(0, bx) = texture_of(grey(block));
  }
}

/// Blocks with the texture of a photograph (255) or of a soft one (128), one pixel a block. A block that is
/// mostly field has none.
cv::Mat1b textured_blocks(const cv::Mat& rgb, const SurfaceMap& map, int side) {
  cv::Mat1b blocks(std::max(1, rgb.rows / side), std::max(1, rgb.cols / side), std::uint8_t{0});
  on_all_cores(blocks.rows, [&](int by) {
    judge_blocks(rgb, map, side, {by * side, std::min(rgb.rows, (by + 1) * side)}, blocks.row(by));
  });
  return blocks;
}

/// What is known of a connected remainder.
struct Remainder {
  int core = 0, soft = 0;   ///< blocks whose middle it holds
  std::int64_t pixels = 0;  ///< of it in textured blocks
  int contact = 0;          ///< pixels on the canvas edge

  bool is_picture(std::int64_t area) const {
    return (core >= 8 || soft + core >= 120) &&
           static_cast<double>(pixels) >= 0.4 * static_cast<double>(area);
  }
};

std::vector<Remainder> look_at(const RunComponents& remainders, const cv::Mat1b& blocks, int side) {
  std::vector<Remainder> found(remainders.parts.size());
  const cv::Size canvas = remainders.label.size();
  for (int y = 0; y < canvas.height; ++y) {
    const int by = std::min(y / side, blocks.rows - 1);
    for (const Run& run : remainders.label.row(y)) {
      Remainder& remainder = found[static_cast<std::size_t>(run.label)];
      remainder.contact += pixels_on_edge(run, y, canvas);
      for (int x = run.begin; x < run.end;) {
        const int bx = std::min(x / side, blocks.cols - 1);
        const int end = bx == blocks.cols - 1 ? run.end : std::min(run.end, (bx + 1) * side);
        if (const int kind = blocks(by, bx); kind != 0) {
          remainder.pixels += end - x;
          for (int middle = x / side * side + side / 2; middle < end; middle += side)
            if (middle >= x && y % side == side / 2) ++(kind == 255 ? remainder.core : remainder.soft);
        }
        x = end;
      }
    }
  }
  return found;
}

/// Adds runs of `added` where the map says nothing; `number` turns their labels into surfaces, 0 for none.
LabelMap filled(const LabelMap& map, const LabelMap& added, const std::vector<int>& number) {
  LabelMap whole(map.size(), 0);
  std::vector<Run> row;
  for (int y = 0; y < map.rows; ++y) {
    row.assign(map.row(y).begin(), map.row(y).end());
    const auto before = std::ssize(row);
    for (const Run& run : added.row(y))
      if (const int surface = number[static_cast<std::size_t>(run.label)]; surface != 0)
        row.push_back({run.begin, run.end, surface});
    std::ranges::inplace_merge(row, row.begin() + before, {}, &Run::begin);
    whole.add_row(row);
  }
  return whole;
}

/// Makes surfaces of boards, and gives figures to the field that they stand on.
void lay(const Boards& boards, const std::vector<int>& surface_of, SurfaceMap& map) {
  if (boards.boards.empty()) return;
  std::vector<int> number{0};
  for (const Board& board : boards.boards) {
    if (board.ground >= 0) {
      number.push_back(surface_of[static_cast<std::size_t>(board.ground)]);
      continue;
    }
    map.surfaces.push_back(board.surface);
    number.push_back(static_cast<int>(map.surfaces.size()));
  }
  map.label = filled(map.label, boards.label, number);
}

/// Takes the connected remainders that are mostly photographic texture as pictures.
void find_picture_surfaces(const cv::Mat& rgb, const Scale& scale, SurfaceMap& map) {
  const int side = scale.whole_px(block_mm);
  const RunComponents remainders = connect(
      rgb.size(), [&](int y, std::vector<Run>& row) { gaps_between(map.label.row(y), rgb.cols, row); });
  const std::vector<Remainder> found = look_at(remainders, textured_blocks(rgb, map, side), side);
  std::vector<int> surface_of(found.size());
  for (std::size_t i = 0; i < found.size(); ++i) {
    const RunComponent& part = remainders.parts[i];
    if (!found[i].is_picture(part.area)) continue;
    Surface surface;
    surface.kind = Surface::Kind::picture;
    surface.area = part.area;
    surface.box = part.box;
    surface.canvas_contact = found[i].contact;
    surface.bleeds = found[i].contact >= scale.px(contact_mm);
    map.surfaces.push_back(surface);
    surface_of[i] = static_cast<int>(map.surfaces.size());
  }
  const std::size_t fields = static_cast<std::size_t>(
      std::ranges::count_if(map.surfaces, [](const Surface& s) { return s.kind == Surface::Kind::field; }));
  if (fields == map.surfaces.size()) return;
  map.label = filled(map.label, remainders.label, surface_of);
  const std::vector<cv::Vec3d> sums =
      colour_sums(rgb, map.label, static_cast<int>(fields) + 1, static_cast<int>(map.surfaces.size()) + 1);
  for (std::size_t i = 0; i < sums.size(); ++i) {
    Surface& picture = map.surfaces[fields + i];
    picture.colour = sums[i] / static_cast<double>(picture.area);
  }
}

}  // namespace

bool is_paper(const Surface& surface) {
  return surface.kind == Surface::Kind::field && std::ranges::min(surface.colour.val) >= paper_white;
}

ZoneBands zones_for_surfaces(const cv::Mat& rgb, const Scale& scale) {
  const auto is_kept = [scale](const Zone& zone) {
    return may_be_surface(zone, scale) || may_be_cut_tile(zone, scale);
  };
  // At few dots an inch the grain of a picture is as large as a tile: without a floor in pixels, zones would
  // be noted by the hundred thousand.
  constexpr double least_noted = 12.0;  // px
  const auto may_be_tile = [least = std::max(least_tile_px(scale), least_noted)](const Zone& zone) {
    return static_cast<double>(zone.area) >= least;
  };
  const double least = std::min(scale.px(strip_contact_mm), least_tile_px(scale));
  return {rgb, {{}, rgb.size()}, smooth_rule(scale), {is_kept, static_cast<int>(least), false, may_be_tile}};
}

SurfaceMap find_surfaces(const cv::Mat& rgb, const Scale& scale) {
  return find_surfaces(rgb, zones_for_surfaces(rgb, scale), scale, find_lattice(rgb, scale));
}

SurfaceMap find_surfaces(const cv::Mat& rgb, ZoneBands bands, const Scale& scale,
                         const std::optional<Lattice>& lattice) {
  ZoneMap zones = bands.finish();
  const Boards boards = find_boards(rgb, zones, smooth_rule(scale), scale);
  zones.noted = {};
  const std::vector<Grain> grains = grains_of(rgb, zones, scale);
  SurfaceMap map;
  std::vector<int> surface_of(zones.zones.size());
  for (std::size_t i = 0; i < zones.zones.size(); ++i) {
    const Zone& zone = zones.zones[i];
    if (boards.has_tile(zone, scale) || is_out_of_focus(zone, grains[i], scale)) continue;
    const auto is_gradient_in_steps = [&] {
      return !scale.lossy && grains[i].is_mostly_flat() && is_thick(zone, grains[i]) &&
             static_cast<double>(zone.area) >= scale.square_px(banded_side_mm) &&
             is_banded(rgb, zones, static_cast<int>(i), scale.square_px(field_side_mm));
    };
    if (!boards.has_mesh(static_cast<int>(i)) && !is_field(zone, grains[i], scale) &&
        !is_edge_strip(zone, grains[i], scale) && !is_gradient_in_steps())
      continue;
    map.surfaces.push_back(field_of(zone, scale));
    surface_of[i] = static_cast<int>(map.surfaces.size());
  }
  map.label = renumbered(std::move(zones.label), surface_of, 0);
  lay(boards, surface_of, map);
  give_lattice_to_ground(rgb, lattice, scale, map);
  close_seams(rgb, scale, map);
  merge_bands(map, scale);
  find_picture_surfaces(rgb, scale, map);
  return map;
}

}  // namespace frisket
