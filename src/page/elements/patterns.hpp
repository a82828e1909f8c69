#pragma once

#include <optional>
#include <vector>

#include "frisket/page.hpp"
#include "page/elements/elements.hpp"
#include "page/grounds/grounds.hpp"

namespace frisket {

/// Figures that repeat over an area: dots, crosses, small tiles, thin stripes.
struct Pattern {
  cv::Vec3f colour;                 ///< of the figures
  std::optional<cv::Vec3f> beside;  ///< what stripes take turns with; else it is the ground's colour
  double thickness = 0;             ///< of stripes, px; 0: the figures are compact
  double figure_area = 0;           ///< of the largest figure's box, px
  cv::Rect inner;                   ///< px; the area that whole figures fill
  cv::Rect field;                   ///< px; the same with those that its end cuts
  std::vector<cv::Rect> figures;    ///< px
};

/// Marks the fields that are stripes of a pattern: six and more of one colour that all bleed. What ends at
/// such a field is neither a colour break nor a short bleed.
void mark_repeating_fields(SurfaceMap& map);

/// Patterns of fields inside the page that are alike in colour and size, of which others are cut by the
/// canvas edge: the tiles of a board.
std::vector<Pattern> tiles(const cv::Mat& rgb, const SurfaceMap& map);

/// Marks the elements that are the dots or figures of a pattern: many of one colour and size on the same
/// ground that either have several of their colour cut by the canvas edge, or lie on a lattice that fills an
/// area and goes on to the canvas edge, as no text or drawing does. Returns the patterns found.
std::vector<Pattern> mark_repeating_elements(ElementTree& tree);

/// Marks what is left of figures on a lossy page, where their colour wavers: small things of a pattern's
/// colour in its field.
void mark_figures_left(ElementTree& tree, const std::vector<Pattern>& patterns);

}  // namespace frisket
