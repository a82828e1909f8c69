#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "frisket/inspect.hpp"

namespace frisket {

/// One finding seen from near, as it will be drawn. Lengths of the drawing are its own units, the height of
/// its type being 13.
struct Closeup {
  PixelRect area;                            ///< canvas pixels that it shows
  bool along_x = true;                       ///< dimension lines stand below the picture; else to its right
  double width, height;                      ///< of the picture
  double strip_below = 0, strip_beside = 0;  ///< room for the dimensions
  double units_per_mm;
};

/// How to show `finding`: near enough for its distance to be seen. Empty where it is about no one place,
/// or about one that cannot be seen from nearer than the page itself.
std::optional<Closeup> plan_closeup(const Finding& finding, const Report& report);

/// The close-up as SVG to stand within HTML: the picture `reference` (of `picture_area` canvas pixels), the
/// ink boxed, trim, fold and limit drawn and named, and beside it dimension lines for what was measured and
/// what is asked for. `number` is the finding's, for its badge; `label` says all of it to who cannot see it.
std::string closeup_svg(const Closeup& closeup, const Finding& finding, const Report& report,
                        const std::string& number, std::string_view reference, const PixelRect& picture_area,
                        std::string_view label);

}  // namespace frisket
