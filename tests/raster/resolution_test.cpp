#include "raster/resolution.hpp"

#include <gmock/gmock.h>

#include <cmath>

#include "page_files.hpp"

namespace frisket {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Optional;

/// The sample picture as a PNG whose only word on resolution is `physical`, a whole chunk or nothing.
std::filesystem::path png_with(const ScratchFolder& folder, const std::string& physical) {
  std::string png = png_signature;
  for (const auto& [type, data] : png_chunks(content(saved(sample_picture(), folder / "plain.png"))))
    if (type != "pHYs") png += (type == "IDAT" ? physical : "") + png_chunk(type, data);
  return written(folder / "page.png", png);
}

std::string physical(std::uint32_t x, std::uint32_t y, char unit) {
  return png_chunk("pHYs", big_endian(x) + big_endian(y) + unit);
}

TEST(Resolution, PngWithoutPhysicalSizeSaysNothing) {
  const ScratchFolder folder;
  const Raster raster = opened(png_with(folder, ""));
  EXPECT_EQ(raster.file_dpi, std::nullopt);
  EXPECT_THAT(raster.notes, IsEmpty());
}

// ISO/IEC 15948, 11.3.5.3: whole pixels per metre; 11811 /m is what 300 dpi becomes.
TEST(Resolution, PngWithMetres) {
  const ScratchFolder folder;
  EXPECT_THAT(opened(png_with(folder, physical(11811, 11811, 1))).file_dpi, Optional(300.0));
  EXPECT_NEAR(opened(png_with(folder, physical(10000, 10000, 1))).file_dpi.value_or(0), 254.0, 1e-9);
  EXPECT_NEAR(opened(png_with(folder, physical(4000, 4000, 1))).file_dpi.value_or(0), 101.6, 1e-9);
}

TEST(Resolution, PngWithUnknownUnitSaysNothing) {
  const ScratchFolder folder;
  EXPECT_EQ(opened(png_with(folder, physical(11811, 11811, 0))).file_dpi, std::nullopt);
}

TEST(Resolution, UnequalOrAbsurdValuesAreNotes) {
  const ScratchFolder folder;
  const Raster unequal = opened(png_with(folder, physical(11811, 11000, 1)));
  EXPECT_EQ(unequal.file_dpi, std::nullopt);
  EXPECT_THAT(unequal.notes, ElementsAre(HasSubstr("299.999 dpi across and 279.4 dpi down")));
  const Raster absurd = opened(png_with(folder, physical(1, 1, 1)));
  EXPECT_EQ(absurd.file_dpi, std::nullopt);
  EXPECT_THAT(absurd.notes, ElementsAre(HasSubstr("cannot be meant")));
}

/// The sample picture as a JPEG with a JFIF header of this unit and density (JFIF 1.02).
std::filesystem::path jpeg_with(const ScratchFolder& folder, char unit, char density_high, char density_low) {
  std::string jpeg = content(saved(sample_picture(), folder / "plain.jpg", "[strip]"));
  jpeg.insert(2, std::string("\xff\xe0\0\x10JFIF\0\1\2", 11) +
                     std::string{unit, density_high, density_low, density_high, density_low, 0, 0});
  return written(folder / "page.jpg", jpeg);
}

// JFIF 1.02: units 0 none, 1 per inch, 2 per centimetre.
TEST(Resolution, JpegNeedsAUnit) {
  const ScratchFolder folder;
  EXPECT_EQ(opened(jpeg_with(folder, 0, 1, 44)).file_dpi, std::nullopt);
  EXPECT_THAT(opened(jpeg_with(folder, 1, 1, 44)).file_dpi, Optional(300.0));
  EXPECT_NEAR(opened(jpeg_with(folder, 2, 0, 118)).file_dpi.value_or(0), 118 * 2.54, 1e-9);
}

/// A TIFF header and directory with both resolutions and the unit, in one byte order (TIFF 6.0, section 2).
std::string resolution_block(std::uint32_t x, std::uint32_t y, char unit) {
  std::string block = std::string("MM\0*", 4) + big_endian(8) + std::string("\0\3", 2);
  const auto entry = [](char tag, char type, const std::string& value) {
    return std::string{1, tag, 0, type} + big_endian(1) + value;
  };
  block += entry(0x1a, 5, big_endian(50)) + entry(0x1b, 5, big_endian(58)) + entry(0x28, 3, {0, unit, 0, 0});
  return block + big_endian(0) + big_endian(x) + big_endian(1) + big_endian(y) + big_endian(1);
}

/// A JPEG without a density of its own, with an Exif block put in behind its first marker.
std::filesystem::path jpeg_with_exif(const ScratchFolder& folder, const std::string& block, char jfif_unit) {
  std::string jpeg = content(jpeg_with(folder, jfif_unit, 1, 44));
  const std::string segment = std::string("Exif\0\0", 6) + block;
  jpeg.insert(2, std::string("\xff\xe1") +
                     big_endian(static_cast<std::uint32_t>(segment.size() + 2)).substr(2) + segment);
  return written(folder / "exif.jpg", jpeg);
}

TEST(Resolution, ExifNeedsAUnitToo) {
  const ScratchFolder folder;
  EXPECT_THAT(opened(jpeg_with_exif(folder, resolution_block(240, 240, 2), 0)).file_dpi, Optional(240.0));
  EXPECT_NEAR(opened(jpeg_with_exif(folder, resolution_block(100, 100, 3), 0)).file_dpi.value_or(0), 254.0,
              1e-9);
  EXPECT_EQ(opened(jpeg_with_exif(folder, resolution_block(240, 240, 1), 0)).file_dpi, std::nullopt);
}

TEST(Resolution, ContradictionInOneFileIsANote) {
  const ScratchFolder folder;
  const Raster raster = opened(jpeg_with_exif(folder, resolution_block(72, 72, 2), 1));
  EXPECT_EQ(raster.file_dpi, std::nullopt);
  EXPECT_THAT(raster.notes,
              testing::Contains(HasSubstr("the Exif data says 72 dpi, the JFIF header 300 dpi")));
}

TEST(Resolution, TiffNeedsAUnit) {
  const ScratchFolder folder;
  const double per_mm = 300.0 / 25.4;
  const vips::VImage picture =
      sample_picture().copy(vips::VImage::option()->set("xres", per_mm)->set("yres", per_mm));
  std::string tiff = content(saved(picture, folder / "a.tif", "[resunit=inch]"));
  EXPECT_THAT(opened(folder / "a.tif").file_dpi, Optional(300.0));
  EXPECT_THAT(opened(saved(picture, folder / "b.tif", "[resunit=cm]")).file_dpi, Optional(300.0));
  // ResolutionUnit is tag 296 (0x128), type SHORT, one value; 1 means 'no absolute unit' (TIFF 6.0, section
  // 8).
  const std::size_t unit = tiff.find(std::string("\x28\x01\x03\x00\x01\x00\x00\x00", 8));
  ASSERT_NE(unit, std::string::npos);
  tiff[unit + 8] = 1;
  EXPECT_EQ(opened(written(folder / "c.tif", tiff)).file_dpi, std::nullopt);
}

TEST(Resolution, WebpKeepsItInExif) {
  const ScratchFolder folder;
  EXPECT_THAT(opened(written(folder / "a.webp", simple_webp(folder, resolution_block(240, 240, 2)))).file_dpi,
              Optional(240.0));
}

TEST(Resolution, PpmAndBareWebpSayNothing) {
  const ScratchFolder folder;
  EXPECT_EQ(opened(saved(sample_picture(), folder / "a.ppm")).file_dpi, std::nullopt);
  EXPECT_EQ(opened(written(folder / "a.webp", simple_webp(folder, ""))).file_dpi, std::nullopt);
}

TEST(AgreedDpi, NotANumberIsUnknown) {
  std::vector<std::string> notes;
  EXPECT_EQ(agreed_dpi({{"the TIFF tags", std::nan(""), 300}}, notes), std::nullopt);
  EXPECT_EQ(agreed_dpi({{"the TIFF tags", INFINITY, INFINITY}}, notes), std::nullopt);
  EXPECT_THAT(notes, ElementsAre(HasSubstr("no number"), HasSubstr("no number")));
}

TEST(AgreedDpi, BoundsAreTenToTenThousand) {
  std::vector<std::string> notes;
  EXPECT_EQ(agreed_dpi({{"x", 9.99, 9.99}}, notes), std::nullopt);
  EXPECT_THAT(agreed_dpi({{"x", 10, 10}}, notes), Optional(10.0));
  EXPECT_THAT(agreed_dpi({{"x", 10'000, 10'000}}, notes), Optional(10'000.0));
  EXPECT_EQ(agreed_dpi({{"x", 10'001, 10'001}}, notes), std::nullopt);
}

TEST(AgreedDpi, OnePercentApartIsStillTheSame) {
  std::vector<std::string> notes;
  EXPECT_THAT(agreed_dpi({{"x", 300, 297.5}}, notes), Optional(298.75));
  EXPECT_THAT(notes, IsEmpty());
  EXPECT_EQ(agreed_dpi({{"x", 300, 296.5}}, notes), std::nullopt);
}

}  // namespace
}  // namespace frisket
