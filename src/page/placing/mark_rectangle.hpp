#pragma once

#include <array>
#include <optional>
#include <vector>

#include "page/placing/strokes.hpp"

namespace frisket {

/// The upright and level strokes of a canvas, and the unit that distances among marks are said in.
struct MarkStrokes {
  std::vector<Stroke> upright, level;
  double px_per_mm;
};

/// The lines of a trim's four sides: x = left - slope * y, y = top + slope * x, and so on; pixels.
struct TrimLines {
  double slope = 0;  ///< tangent of the angle by which the trim is turned clockwise
  double left = 0, right = 0, top = 0, bottom = 0;

  double width() const;
  double height() const;
  /// Where the line at `x` = left or right meets the one at `y` = top or bottom.
  cv::Point2d corner(double x, double y) const;
  cv::Point2d middle() const;
};

/// A mark can stand at eight places: at both ends of each side's line.
enum MarkPlace {
  left_top,
  left_bottom,
  right_top,
  right_bottom,
  top_left,
  top_right,
  bottom_left,
  bottom_right
};

/// A rectangle and the marks that stand for it.
struct MarkRectangle {
  TrimLines lines;
  std::array<const Stroke*, 8> marks{};  ///< by MarkPlace; null where there is none
  int count = 0;                         ///< of marks
  int corners = 0;                       ///< that have both
  std::array<bool, 4> sides{};           ///< left, right, top, bottom: has at least one mark

  /// How far the two ends of a mark of mean length lie apart across its side's line, px: 0 where the slope
  /// that the marks have, each for itself, is the rectangle's.
  double ends_off() const;
};

/// Takes the marks that stand at the corners of `guess`, fits the four lines to them in common, and drops
/// what does not lie on them or is not drawn like most. A side without a mark keeps its distance from the
/// opposite one. Where no side has marks at both ends, they are too short to say the slope; then it is the
/// one at which a rectangle of the size of `guess` fits best.
MarkRectangle fit_marks(const MarkStrokes& strokes, const TrimLines& guess);

/// A corner that an upright and a level stroke make, both pointing at it from outside.
struct MarkCorner {
  cv::Point2d at;
};
/// All such corners: `right` and `low` say which of a trim's four they could be.
std::vector<MarkCorner> find_corners(const MarkStrokes& strokes, bool right, bool low);

}  // namespace frisket
