#pragma once

#include <vector>

#include "page/grounds/grounds.hpp"

namespace frisket {

/// Tiles of two colours that take turns, or figures of one colour on a field of another.
struct Board {
  cv::Vec3f one, other;  ///< the tiles' colours; the figures' and the field's
  double tile_area = 0;  ///< px, of a whole one without its anti-aliased border
  int ground = -1;       ///< the zone that the figures stand on; -1: there are tiles alone
  bool is_mesh = false;  ///< the figures cover more than is left of that zone
  Surface surface{};     ///< that all tiles make
};

struct Boards {
  std::vector<Board> boards;
  LabelMap label;  ///< board of each pixel from 1, 0 for none; empty where there are no boards

  bool has_tile(const Zone& zone, const Scale& scale) const;
  /// Is the zone what is left between figures that cover most of their ground? It is ground, however thin.
  bool has_mesh(int zone) const;
};

/// Pixels of the smallest tile looked for.
double least_tile_px(const Scale& scale);

/// May the zone be a tile that the canvas edge cuts? find_boards() wants to see those.
bool may_be_cut_tile(const Zone& zone, const Scale& scale);

/// Finds boards and figures that repeat, to be taken as one surface each, or as a part of the field that they
/// stand on: ground, before anybody looks for things that stand on it. They are told by what type and
/// drawings are not: a colour that has many zones of one size and is cut by the canvas edge again and again.
/// (Textures are told apart by the size and colour of their elements alone: Voorhees, Poggio, Computing
/// texture boundaries from images, Nature 333, 1988.) What stands on them, and the border of its ink, is left
/// out. Patterns that the canvas does not cut so often are left to page/elements/patterns.hpp.
///
/// `zones`: the page's zones by `rule`, those of may_be_cut_tile() with them; those of least_tile_px() and
/// more are noted. Only pages with boards are labelled again, for the pixels of their tiles.
Boards find_boards(const cv::Mat& rgb, const ZoneMap& zones, ZoneRule rule, const Scale& scale);

}  // namespace frisket
