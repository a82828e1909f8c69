#include "page/grounds/boards.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace frisket {
namespace {

constexpr double least_tile_mm = 0.3;                     // side; smaller zones are the grain of a picture
constexpr int tiles_cut = 4;                              // by the canvas edge, of either colour
constexpr int whole_tiles = 10;                           // of one size, of either colour
constexpr double same_size = 1.2, same_size_lossy = 1.4;  // of the larger of two tiles to the smaller
constexpr double largest_tile = 1.3;                      // of the usual one: more is a thing of that colour
constexpr double least_filled = 0.3;                      // by whole tiles, of the board's box
constexpr double slender = 6.0;                           // length of a stripe, of its thickness
constexpr double on_ground = 0.5;                         // of what lies just outside the figures
constexpr double least_covered = 0.02;                    // by figures, of their box
constexpr std::size_t most_colours = 8;                   // looked at, the commonest first

float same_colour(const Scale& scale) { return scale.lossy ? 12.0F : 4.0F; }

bool is_like(const cv::Vec3f& a, const cv::Vec3f& b, const Scale& scale) {
  return colour_step(a, b) <= same_colour(scale);
}

/// The colours that the canvas edge cuts often.
std::vector<cv::Vec3f> cut_colours(const std::vector<Zone>& zones, const Scale& scale) {
  struct Count {
    cv::Vec3f colour;
    int zones = 0;
  };
  std::vector<Count> counts;
  for (const Zone& zone : zones) {
    if (!may_be_cut_tile(zone, scale)) continue;
    const auto same =
        std::ranges::find_if(counts, [&](const Count& c) { return is_like(c.colour, zone.colour, scale); });
    if (same == counts.end())
      counts.push_back({zone.colour, 1});
    else
      ++same->zones;
  }
  std::erase_if(counts, [](const Count& c) { return c.zones < tiles_cut; });
  std::ranges::stable_sort(counts, std::ranges::greater{}, &Count::zones);
  std::vector<cv::Vec3f> colours;
  for (std::size_t i = 0; i < std::min(counts.size(), most_colours); ++i) colours.push_back(counts[i].colour);
  return colours;
}

double thickness_of(const Zone& zone) {
  return static_cast<double>(zone.area) / std::hypot(zone.box.width, zone.box.height);
}

/// The whole tiles of one colour.
struct Tiles {
  cv::Vec3f colour;
  double area = 0;       ///< of one, px
  bool slender = false;  ///< a stripe is left to page/elements/patterns.hpp
  std::ptrdiff_t count = 0;
  cv::Rect box;  ///< of all
};

/// The stretch of sorted areas that are alike and that cover most: the corners between tiles are as many, and
/// tiny.
Tiles tiles_of(const cv::Vec3f& colour, const std::vector<Zone>& zones, const Scale& scale) {
  std::vector<const Zone*> whole;
  for (const Zone& zone : zones)
    if (zone.canvas_contact == 0 && is_like(zone.colour, colour, scale)) whole.push_back(&zone);
  std::ranges::stable_sort(whole, {}, &Zone::area);
  const double alike = scale.lossy ? same_size_lossy : same_size;
  auto best = whole.begin(), best_end = best;
  double most_covered = 0;
  for (auto from = whole.begin(), to = from; from != whole.end(); ++from) {
    while (to != whole.end() &&
           static_cast<double>((*to)->area) <= alike * static_cast<double>((*from)->area))
      ++to;
    const double covered = static_cast<double>(to - from) * static_cast<double>((*from)->area);
    if (covered > most_covered) best = from, best_end = to, most_covered = covered;
  }
  Tiles tiles;
  tiles.colour = colour, tiles.count = best_end - best;
  if (tiles.count == 0) return tiles;
  const Zone& usual = **(best + tiles.count / 2);
  tiles.area = static_cast<double>(usual.area);
  tiles.slender = std::hypot(usual.box.width, usual.box.height) >= slender * thickness_of(usual);
  for (auto at = best; at != best_end; ++at) tiles.box |= (*at)->box;
  return tiles;
}

bool is_whole_tile(const Zone& zone, const Tiles& tiles, const Scale& scale) {
  const double alike = scale.lossy ? same_size_lossy : same_size;
  const double area = static_cast<double>(zone.area);
  return zone.canvas_contact == 0 && is_like(zone.colour, tiles.colour, scale) &&
         area <= alike * tiles.area && tiles.area <= alike * area;
}

bool take_turns(const Tiles& a, const Tiles& b, const Scale& scale) {
  const double alike = scale.lossy ? same_size_lossy : same_size;
  const double filled = static_cast<double>(a.count) * a.area + static_cast<double>(b.count) * b.area;
  return std::max(a.area, b.area) <= alike * std::min(a.area, b.area) &&
         2 * (a.box & b.box).area() > (a.box | b.box).area() &&
         filled >= least_filled * (a.box | b.box).area();
}

/// The zone that lies just outside most of the figures, -1 where there is none.
int ground_of(const Tiles& figures, const ZoneMap& page, const std::vector<Zone>& all, const Scale& scale) {
  constexpr int outside = 3;
  const cv::Rect canvas({}, page.label.size());
  std::map<int, int> met;
  int looked_at = 0;
  for (const Zone& zone : all) {
    if (!is_whole_tile(zone, figures, scale)) continue;
    const cv::Rect& box = zone.box;
    const cv::Point middle = (box.tl() + box.br()) / 2;
    for (const cv::Point at :
         {cv::Point(box.x - outside, middle.y), cv::Point(box.br().x - 1 + outside, middle.y),
          cv::Point(middle.x, box.y - outside), cv::Point(middle.x, box.br().y - 1 + outside)})
      if (canvas.contains(at)) ++looked_at, ++met[page.label(at)];
  }
  met.erase(-1);
  const auto most = std::ranges::max_element(met, {}, [](const auto& entry) { return entry.second; });
  if (most == met.end() || most->second < on_ground * looked_at) return -1;
  const Zone& ground = page.zones[static_cast<std::size_t>(most->first)];
  return static_cast<double>(ground.area) > largest_tile * figures.area ? most->first : -1;
}

std::vector<Board> boards_of(const std::vector<cv::Vec3f>& colours, const ZoneMap& page,
                             const std::vector<Zone>& zones, const Scale& scale) {
  std::vector<Tiles> left;
  for (const cv::Vec3f& colour : colours)
    if (const Tiles tiles = tiles_of(colour, zones, scale);
        tiles.count >= whole_tiles && !tiles.slender &&
        static_cast<double>(tiles.count) * tiles.area >= least_covered * tiles.box.area())
      left.push_back(tiles);
  std::vector<Board> boards;
  while (!left.empty()) {
    const Tiles one = left.front();
    left.erase(left.begin());
    const auto other = std::ranges::find_if(left, [&](const Tiles& t) { return take_turns(one, t, scale); });
    if (other != left.end()) {
      boards.push_back({one.colour, other->colour, std::max(one.area, other->area)});
      left.erase(other);
    } else if (const int ground = ground_of(one, page, zones, scale); ground >= 0) {
      const Zone& field = page.zones[static_cast<std::size_t>(ground)];
      const bool mesh = static_cast<double>(one.count) * one.area > static_cast<double>(field.area);
      boards.push_back({one.colour, field.colour, one.area, ground, mesh});
    }
  }
  return boards;
}

bool is_tile(const Board& board, const Zone& zone, const Scale& scale) {
  return static_cast<double>(zone.area) <= largest_tile * board.tile_area &&
         (is_like(zone.colour, board.one, scale) || is_like(zone.colour, board.other, scale));
}

/// Between the colours of the board's tiles, as their anti-aliased borders are.
bool is_mixed(const cv::Vec3b& here, const Board& board, float slack) {
  for (int i = 0; i < 3; ++i)
    if (here[i] < std::min(board.one[i], board.other[i]) - slack ||
        here[i] > std::max(board.one[i], board.other[i]) + slack)
      return false;
  return true;
}

/// Where the board's tiles lie.
cv::Rect extent_of(const Board& board, const ZoneMap& all, const Scale& scale) {
  cv::Rect extent;
  for (const Zone& zone : all.zones)
    if (is_tile(board, zone, scale)) extent |= zone.box;
  return extent;
}

/// Marks what is left of tiles that the canvas, a rule or a letter cuts nearly off: pixels of their colour in
/// zones that are too small to be kept.
void add_crumbs(const Board& board, const cv::Vec3b* row, std::span<const Run> kept, const cv::Rect& extent,
                const Scale& scale, std::uint8_t* tiles) {
  int x = extent.x;
  const auto mark_up_to = [&](int end) {
    for (; x < std::min(end, extent.br().x); ++x)
      if (is_like(cv::Vec3f(row[x]), board.one, scale)) tiles[x] = 255;
  };
  for (const Run& run : kept) {
    mark_up_to(run.begin);
    x = std::max(x, run.end);
  }
  mark_up_to(extent.br().x);
}

/// Gives the pixels of one board its number: its tiles, then what is mixed of their colours beside them and
/// in no zone. Band by band, since an A0 page has no room for many maps.
void lay(const Board& board, int number, const cv::Mat& rgb, const ZoneMap& page, const ZoneMap& all,
         const Scale& scale, cv::Mat1b& label) {
  constexpr int band_rows = 256;
  const int reach = scale.lossy ? 3 : 2;
  const float slack = scale.lossy ? 24.0F : 6.0F;
  const cv::Mat round = cv::getStructuringElement(cv::MORPH_RECT, {2 * reach + 1, 2 * reach + 1});
  const cv::Rect extent = extent_of(board, all, scale);
  for (int top = 0; top < rgb.rows; top += band_rows) {
    const int end = std::min(rgb.rows, top + band_rows);
    const int first = std::max(0, top - reach), last = std::min(rgb.rows, end + reach);
    cv::Mat1b tiles(last - first, rgb.cols, std::uint8_t{0}), near;
    for (int y = first; y < last; ++y) {
      for (const Run& run : all.label.row(y))
        if (is_tile(board, all.zones[static_cast<std::size_t>(run.label)], scale))
          std::fill(tiles[y - first] + run.begin, tiles[y - first] + run.end, std::uint8_t{255});
      if (board.ground >= 0 && y >= extent.y && y < extent.br().y)
        add_crumbs(board, rgb.ptr<cv::Vec3b>(y), all.label.row(y), extent, scale, tiles[y - first]);
    }
    cv::dilate(tiles, near, round);
    for (int y = top; y < end; ++y) {
      std::uint8_t* beside = near[y - first];
      for (const Run& run : page.label.row(y))
        std::fill(beside + run.begin, beside + run.end, std::uint8_t{0});
      const cv::Vec3b* row = rgb.ptr<cv::Vec3b>(y);
      for (int x = 0; x < rgb.cols; ++x)
        if (tiles(y - first, x) != 0 || (beside[x] != 0 && is_mixed(row[x], board, slack)))
          label(y, x) = static_cast<std::uint8_t>(number);
    }
  }
}

Surface surface_of(const cv::Mat1b& label, int number, const Board& board, const Scale& scale) {
  Surface surface;
  surface.colour = 0.5F * (board.one + board.other);
  for (int y = 0; y < label.rows; ++y) {
    int begin = label.cols, end = 0;
    for (int x = 0; x < label.cols; ++x) {
      if (label(y, x) != number) continue;
      begin = std::min(begin, x), end = x + 1;
      ++surface.area;
      const bool on_edge = y == 0 || y == label.rows - 1 || x == 0 || x == label.cols - 1;
      surface.canvas_contact += on_edge;
    }
    if (end > begin) surface.box |= cv::Rect(begin, y, end - begin, 1);
  }
  surface.bleeds = surface.canvas_contact >= scale.px(1.0);
  return surface;
}

}  // namespace

bool Boards::has_tile(const Zone& zone, const Scale& scale) const {
  return std::ranges::any_of(boards, [&](const Board& board) { return is_tile(board, zone, scale); });
}

bool Boards::has_mesh(int zone) const {
  return std::ranges::any_of(boards, [&](const Board& b) { return b.is_mesh && b.ground == zone; });
}

double least_tile_px(const Scale& scale) { return scale.square_px(least_tile_mm); }

bool may_be_cut_tile(const Zone& zone, const Scale& scale) {
  return zone.canvas_contact > 0 && static_cast<double>(zone.area) >= least_tile_px(scale);
}

Boards find_boards(const cv::Mat& rgb, const ZoneMap& zones, ZoneRule rule, const Scale& scale) {
  Boards found;
  const std::vector<cv::Vec3f> colours = cut_colours(zones.zones, scale);
  if (colours.empty()) return found;
  found.boards = boards_of(colours, zones, zones.noted, scale);
  if (found.boards.empty()) return found;
  const double least = least_tile_px(scale);
  const KeptZones kept{[&](const Zone& zone) { return static_cast<double>(zone.area) >= least; },
                       static_cast<int>(least)};
  const ZoneMap all = label_zones(rgb, {{}, rgb.size()}, rule, kept);
  cv::Mat1b label(rgb.size(), std::uint8_t{0});  // boards are few
  for (std::size_t i = 0; i < found.boards.size(); ++i) {
    const int number = static_cast<int>(i) + 1;
    lay(found.boards[i], number, rgb, zones, all, scale, label);
    found.boards[i].surface = surface_of(label, number, found.boards[i], scale);
  }
  found.label = LabelMap(rgb.size(), 0);
  std::vector<int> row;
  for (int y = 0; y < rgb.rows; ++y) {
    row.assign(label[y], label[y] + label.cols);
    found.label.add_row(row.data());
  }
  return found;
}

}  // namespace frisket
