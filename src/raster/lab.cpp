#include "raster/lab.hpp"

#include <vector>

namespace frisket {

using vips::VImage;

/// libvips packs an 8-bit Lab TIFF in a coding of its own: L, a, b and lower bits that such a file does not
/// have. (Its LabQ2Lab counts on them, and makes the lightest L 99.7.)
VImage unpacked_lab(const VImage& packed) {
  const VImage raw = packed.copy(VImage::option()
                                     ->set("coding", VIPS_CODING_NONE)
                                     ->set("interpretation", VIPS_INTERPRETATION_MULTIBAND));
  const VImage ab = raw.extract_band(1, VImage::option()->set("n", 2));
  return raw.extract_band(0)
      .linear(100.0 / 255.0, 0.0)
      .bandjoin(ab.copy(VImage::option()->set("format", VIPS_FORMAT_CHAR)))
      .copy(VImage::option()->set("interpretation", VIPS_INTERPRETATION_LAB));
}

/// TIFF Lab is relative to D50 (TIFF technical note 'CIE L*a*b*', as the ICC's), libvips' own to D65. (Its
/// icc_export works to 8 bits and turns white into 253.)
VImage lab_to_srgb(const VImage& lab) {
  // Bradford adaptation from D50 to D65: Lindbloom, Chromatic Adaptation (from memory; the white points check
  // it).
  const VImage d50_to_d65 = VImage::new_matrixv(3, 3, 0.9555766, -0.0230393, 0.0631636, -0.0282895, 1.0099416,
                                                0.0210077, 0.0122982, -0.0204830, 1.3299098);
  const std::vector<double> d50{96.42, 100.0, 82.49};
  return lab.colourspace(VIPS_INTERPRETATION_LAB)
      .Lab2XYZ(VImage::option()->set("temp", d50))
      .recomb(d50_to_d65)
      .copy(VImage::option()->set("interpretation", VIPS_INTERPRETATION_XYZ))
      .colourspace(VIPS_INTERPRETATION_RGB16)
      .linear(255.0 / 65535.0, 0.5)  // rounded, so that white stays 255
      .cast(VIPS_FORMAT_UCHAR)
      .copy(VImage::option()->set("interpretation", VIPS_INTERPRETATION_sRGB));
}

}  // namespace frisket
