#pragma once

#include <optional>
#include <string>
#include <vector>

#include "frisket/inspect.hpp"
#include "report/svg.hpp"

namespace frisket {

/// Overlay pixels of the page without the strip below it.
struct OverlayPage {
  double width, height;
};
OverlayPage overlay_page(const Report& report, double scale);

/// Where the dimension line of a finding runs, in overlay pixels. `reference` and `ink` lie on the axis that
/// is measured along, `across` and `box_end` on the other one.
struct Dimension {
  bool along_x = false;  ///< measured along x: a left or right edge, a vertical fold
  double reference = 0;  ///< the trim or the fold
  double ink = 0;        ///< the ink, or the end of the colour
  double across = 0;     ///< where the line itself lies, clear of the box where there is room
  double box_end = 0;    ///< the side of the box that the extension line leaves from

  /// The place `along` the measured axis and `beside` it.
  Spot spot(double along, double beside) const { return along_x ? Spot{along, beside} : Spot{beside, along}; }
};

/// One finding laid out on the overlay.
struct Mark {
  std::string number;  ///< the finding's id
  Severity severity = Severity::note;
  std::optional<PixelRect> box, whole;  ///< overlay pixels; empty where the finding is about no one place
  std::optional<Dimension> dimension;
  std::string label;             ///< the distance or the resolution, with its unit; may be empty
  Spot anchor;                   ///< what the tag belongs to
  std::optional<PixelRect> tag;  ///< badge and label; empty where the page has no room for it
};

/// Lays out every finding: tags never touch each other nor leave the page, and keep off the ink that is
/// complained of and off dimension lines where they can. In the order of the findings, so the same report
/// gives the same marks.
std::vector<Mark> lay_out_marks(const Report& report, double scale);

/// Draws bleed, safe zone, folds, trim and findings, a group each.
void draw_layers(Svg& svg, const Report& report, const std::vector<Mark>& marks, double scale);

}  // namespace frisket
