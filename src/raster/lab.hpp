#pragma once

#include <vips/vips8>

namespace frisket {

/// An 8-bit Lab TIFF as libvips gives it (coding LABQ), as floating-point Lab.
vips::VImage unpacked_lab(const vips::VImage& packed);

/// Lab relative to D50 as 8-bit sRGB; colours beyond sRGB are clipped.
vips::VImage lab_to_srgb(const vips::VImage& lab);

}  // namespace frisket
