#pragma once

#include <string>
#include <vector>

#include <vips/vips8>

#include "frisket/raster.hpp"

namespace frisket {

/// The decoded page as 8-bit sRGB, three bands, and what it was before.
struct ScreenColours {
  vips::VImage image;
  ColourSpace colour = ColourSpace::srgb;
  std::vector<std::string> notes{}, unseen{};  ///< as Raster's
};

/// Turns grey, RGB, CMYK and Lab of 8 or 16 bits into 8-bit sRGB. An embedded profile is obeyed (relative
/// colorimetric, with black point compensation, so that paper stays 255 and full black 0), unless it says the
/// same as sRGB: then, and without a profile, values pass unchanged (16 bits lose their lower 8). CMYK
/// without a profile goes through libvips' own general one. Transparency is flattened on paper white;
/// `extra_is_alpha` tells whether a band beyond the colours is transparency. What was done is noted.
/// Throws Error for floating-point samples and for numbers of bands that are no page.
ScreenColours to_screen_colours(const vips::VImage& page, bool extra_is_alpha);

}  // namespace frisket
