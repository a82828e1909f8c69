// Reference values: transicc of littleCMS 2.14 (relative colorimetric, black point compensation), run over
// the same profiles; libvips' built-in ones were written to files for it.
#include <gmock/gmock.h>

#include "page_files.hpp"

namespace frisket {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

void expect_near(const std::vector<int>& found, const std::vector<double>& wanted, double tolerance) {
  for (std::size_t i = 0; i < 3; ++i) EXPECT_NEAR(found[i], wanted[i], tolerance) << "channel " << i;
}

vips::VImage tagged(vips::VImage image, const char* profile) {
  VipsBlob* blob = nullptr;
  EXPECT_EQ(vips_profile_load(profile, &blob, nullptr), 0);
  std::size_t size = 0;
  const void* data = vips_blob_get(blob, &size);
  image = image.copy_memory();
  vips_image_set_blob_copy(image.get_image(), VIPS_META_ICC_NAME, data, size);
  vips_area_unref(VIPS_AREA(blob));
  return image;
}

void expect_unchanged(const Raster& raster, const vips::VImage& picture) {
  std::size_t size = 0;
  void* memory = picture.write_to_memory(&size);
  ASSERT_EQ(raster.rgb.size(), size);
  EXPECT_EQ(std::memcmp(raster.rgb.data(), memory, size), 0);
  g_free(memory);
}

TEST(Colour, UntaggedAndSrgbPagesPassUnchanged) {
  const ScratchFolder folder;
  const Raster plain = opened(saved(sample_picture(), folder / "a.png"));
  expect_unchanged(plain, sample_picture());
  EXPECT_EQ(plain.colour, ColourSpace::srgb);
  const Raster srgb = opened(saved(tagged(sample_picture(), "srgb"), folder / "b.tif"));
  expect_unchanged(srgb, sample_picture());
  EXPECT_THAT(srgb.notes, IsEmpty());
}

TEST(Colour, EmbeddedRgbProfileIsObeyed) {
  const ScratchFolder folder;
  const struct {
    std::vector<double> p3, srgb;
  } references[] = {{{200, 100, 50}, {214.8949, 92.6148, 32.0078}},
                    {{30, 160, 90}, {0, 162.8988, 81.9300}},
                    {{90, 60, 200}, {95.3658, 58.3268, 207.6226}},
                    {{128, 128, 128}, {128, 128, 128}},
                    {{255, 255, 255}, {255, 255, 255}}};
  for (const auto& [p3, srgb] : references) {
    const Raster raster = opened(saved(tagged(flat(p3, VIPS_INTERPRETATION_sRGB), "p3"), folder / "a.png"));
    expect_near(pixel(raster, 3, 3), srgb, p3.front() == 255 ? 0.0 : 1.0);  // white must stay white
    EXPECT_THAT(raster.notes, ElementsAre(HasSubstr("RGB values were turned")));
  }
}

struct Cmyk {
  std::vector<double> percent, srgb;
};
const std::vector<Cmyk> cmyk_references{
    {{0, 0, 0, 0}, {255, 255, 255}},           {{100, 0, 0, 0}, {0, 153.0117, 227.5253}},
    {{0, 100, 0, 0}, {233.6226, 0, 129.7821}}, {{0, 0, 100, 0}, {255, 239.8677, 0}},
    {{0, 0, 0, 100}, {12.3191, 0, 18.5603}},   {{20, 80, 0, 0}, {191.6654, 70.8093, 143.6148}}};

vips::VImage cmyk_page(const std::vector<double>& percent) {
  std::vector<double> ink;
  for (const double p : percent) ink.push_back(p * 2.55);
  return flat(ink, VIPS_INTERPRETATION_CMYK);
}

TEST(Colour, CmykWithoutProfileGoesThroughTheGeneralOneAndSaysSo) {
  const ScratchFolder folder;
  for (const Cmyk& reference : cmyk_references) {
    const Raster raster = opened(saved(cmyk_page(reference.percent), folder / "a.tif"));
    expect_near(pixel(raster, 3, 3), reference.srgb,
                reference.srgb.back() == 255 ? 0.0 : 1.5);  // paper stays white
    EXPECT_EQ(raster.colour, ColourSpace::cmyk);
    EXPECT_THAT(raster.notes, ElementsAre(HasSubstr("a general press profile")));
  }
}

TEST(Colour, CmykWithProfileGoesThroughItsOwn) {
  const ScratchFolder folder;
  const Raster raster = opened(saved(tagged(cmyk_page({20, 80, 0, 0}), "cmyk"), folder / "a.tif"));
  expect_near(pixel(raster, 3, 3), {191.6654, 70.8093, 143.6148}, 1.5);
  EXPECT_THAT(
      raster.notes,
      ElementsAre(HasSubstr("CMYK values were turned into screen colours by the profile in the file")));
}

// The four inks of a JPEG are stored upside down by common practice (the Adobe marker); paper must stay
// paper.
TEST(Colour, CmykJpegIsNotUpsideDown) {
  const ScratchFolder folder;
  EXPECT_EQ(pixel(opened(saved(cmyk_page({0, 0, 0, 0}), folder / "a.jpg")), 3, 3),
            (std::vector{255, 255, 255}));
  expect_near(pixel(opened(saved(cmyk_page({0, 100, 0, 0}), folder / "b.jpg", "[Q=100]")), 3, 3),
              {233.6, 0, 129.8}, 4.0);
}

TEST(Colour, ProfileThatDoesNotFitLeavesColoursUnknown) {
  const ScratchFolder folder;
  const vips::VImage picture = sample_picture();
  const Raster raster = opened(saved(tagged(picture, "cmyk"), folder / "a.tif"));
  expect_unchanged(raster, picture);
  EXPECT_THAT(raster.unseen, ElementsAre(HasSubstr("does not fit")));
}

TEST(Colour, DamagedProfileLeavesColoursUnknown) {
  const ScratchFolder folder;
  for (const auto& [page, notes] : {std::pair(sample_picture(), 1), std::pair(cmyk_page({0, 0, 0, 0}), 2)}) {
    vips::VImage damaged = page.copy_memory();
    const std::string profile(200, 'x');
    vips_image_set_blob_copy(damaged.get_image(), VIPS_META_ICC_NAME, profile.data(), profile.size());
    const Raster raster = opened(saved(damaged, folder / "a.tif"));
    EXPECT_EQ(raster.notes.size() + raster.unseen.size(), static_cast<std::size_t>(notes));
    EXPECT_THAT(raster.unseen, testing::Contains(HasSubstr("is damaged")));
  }
}

// Lab of the sRGB red and of neutral greys, D50, encoded as TIFF 6.0, section 23 has it: L * 255 / 100, a and
// b signed.
TEST(Colour, LabIsReadToD50) {
  const ScratchFolder folder;
  const struct {
    std::vector<double> lab, srgb;
    double tolerance;
  } references[] = {{{54.12, 81, 70}, {254.7043, 0, 0}, 1.5},
                    {{100, 0, 0}, {255, 255, 255}, 0.0},
                    {{64.7, 20, -30}, {172.2763, 145.6809, 211.0739}, 1.5},
                    {{40, -20, 25}, {70.3113, 102.7471, 51.1984}, 1.5}};
  for (const auto& [lab, srgb, tolerance] : references) {
    const vips::VImage page = flat(lab, VIPS_INTERPRETATION_LAB, VIPS_FORMAT_FLOAT);
    expect_near(pixel(opened(saved(page.Lab2LabQ(), folder / "8.tif")), 3, 3), srgb, tolerance);
    expect_near(pixel(opened(saved(page.Lab2LabS(), folder / "16.tif")), 3, 3), srgb, tolerance);
  }
}

// Netpbm's own format, written by hand, so that nothing of libvips is in it.
TEST(Colour, SixteenBitsKeepTheUpperEight) {
  const ScratchFolder folder;
  const std::string samples("\xff\xff\x80\x80\x00\x00\x12\x34\x40\x40\x01\x01", 12);
  const Raster raster = opened(written(folder / "a.ppm", "P6 2 1 65535\n" + samples));
  EXPECT_EQ(pixel(raster, 0, 0), (std::vector{255, 128, 0}));
  EXPECT_EQ(pixel(raster, 1, 0), (std::vector{0x12, 64, 1}));
  const vips::VImage deep =
      flat({257 * 10.0, 257 * 99.0, 257 * 200.0}, VIPS_INTERPRETATION_RGB16, VIPS_FORMAT_USHORT);
  for (const char* name : {"a.png", "a.tif"})
    EXPECT_EQ(pixel(opened(saved(deep, folder / name)), 3, 3), (std::vector{10, 99, 200})) << name;
}

TEST(Colour, WhiteOfAPgmIsItsLargestValue) {
  const ScratchFolder folder;
  const Raster raster =
      opened(written(folder / "a.pgm", std::string("P5 3 1 100\n") + std::string("\x00\x32\x64", 3)));
  EXPECT_EQ(pixel(raster, 0, 0), (std::vector{0, 0, 0}));
  EXPECT_EQ(pixel(raster, 1, 0), (std::vector{128, 128, 128}));
  EXPECT_EQ(pixel(raster, 2, 0), (std::vector{255, 255, 255}));
  EXPECT_EQ(raster.colour, ColourSpace::grey);
}

// pbm(5): 1 is black.
TEST(Colour, BitmapsAreBlackOnWhite) {
  const ScratchFolder folder;
  const Raster raster = opened(written(folder / "a.pbm", std::string("P4\n3 1\n") + '\x40'));
  EXPECT_EQ(pixel(raster, 0, 0), (std::vector{255, 255, 255}));
  EXPECT_EQ(pixel(raster, 1, 0), (std::vector{0, 0, 0}));
}

TEST(Colour, GreyBecomesThreeEqualChannels) {
  const ScratchFolder folder;
  const vips::VImage grey = sample_picture().extract_band(0);
  for (const char* name : {"a.png", "a.tif", "a.pgm"}) {
    const Raster raster = opened(saved(grey, folder / name));
    EXPECT_EQ(pixel(raster, 40, 20), (std::vector{160, 160, 160})) << name;
    EXPECT_EQ(raster.colour, ColourSpace::grey) << name;
  }
}

TEST(Colour, WhiteIsZeroTiffsAreTurnedRound) {
  const ScratchFolder folder;
  const vips::VImage grey = sample_picture().extract_band(0);
  EXPECT_EQ(pixel(opened(saved(grey, folder / "a.tif", "[miniswhite]")), 40, 20),
            (std::vector{160, 160, 160}));
  const vips::VImage bits = grey.relational_const(VIPS_OPERATION_RELATIONAL_MORE, {100.0});
  for (const char* options :
       {"[bitdepth=1]", "[bitdepth=1,miniswhite]", "[bitdepth=1,compression=ccittfax4]"}) {
    const Raster raster = opened(saved(bits, folder / "b.tif", options));
    EXPECT_EQ(pixel(raster, 40, 20), (std::vector{255, 255, 255})) << options;
    EXPECT_EQ(pixel(raster, 10, 20), (std::vector{0, 0, 0})) << options;
  }
}

// c * a + white * (1 - a), on values as they are encoded for the screen.
TEST(Colour, AlphaIsFlattenedOnPaperWhite) {
  const ScratchFolder folder;
  const vips::VImage half = flat({200, 100, 0, 51}, VIPS_INTERPRETATION_sRGB);
  for (const char* name : {"a.png", "a.tif"})
    expect_near(pixel(opened(saved(half, folder / name)), 3, 3), {244, 224, 204}, 1.0);
  expect_near(pixel(opened(saved(half, folder / "a.webp", "[lossless]")), 3, 3), {244, 224, 204}, 1.0);
  const vips::VImage grey = flat({100, 51}, VIPS_INTERPRETATION_B_W);
  expect_near(pixel(opened(saved(grey, folder / "b.png")), 3, 3), {224, 224, 224}, 1.0);
  const vips::VImage deep =
      flat({200 * 257.0, 100 * 257.0, 0, 51 * 257.0}, VIPS_INTERPRETATION_RGB16, VIPS_FORMAT_USHORT);
  expect_near(pixel(opened(saved(deep, folder / "c.png")), 3, 3), {244, 224, 204}, 1.0);
  const vips::VImage nothing = flat({0, 0, 0, 0}, VIPS_INTERPRETATION_sRGB);
  EXPECT_EQ(pixel(opened(saved(nothing, folder / "d.png")), 3, 3), (std::vector{255, 255, 255}));
}

TEST(Colour, SpotInkBesideCmykIsNoAlpha) {
  const ScratchFolder folder;
  std::string tiff = content(saved(flat({0, 0, 0, 0, 255}, VIPS_INTERPRETATION_CMYK), folder / "a.tif"));
  // ExtraSamples is tag 338 (0x152), SHORT, one value; 0 means 'unspecified' (TIFF 6.0, section 18).
  const std::size_t extra = tiff.find(std::string("\x52\x01\x03\x00\x01\x00\x00\x00", 8));
  ASSERT_NE(extra, std::string::npos);
  tiff[extra + 8] = 0;
  const Raster raster = opened(written(folder / "b.tif", tiff));
  EXPECT_EQ(pixel(raster, 3, 3), (std::vector{255, 255, 255}));
  EXPECT_THAT(raster.unseen, testing::Contains(HasSubstr("spot inks")));
}

TEST(Colour, FloatingPointIsRefusedWithTheRemedy) {
  const ScratchFolder folder;
  const auto file =
      saved(flat({0.1, 0.2, 0.3}, VIPS_INTERPRETATION_scRGB, VIPS_FORMAT_FLOAT), folder / "a.tif");
  EXPECT_THAT(error_of([&] { opened(file); }), HasSubstr("export it with 8 or 16 bits"));
}

TEST(Colour, SpacesHaveTheirNames) {
  EXPECT_EQ(colour_space_name(ColourSpace::srgb), "srgb");
  EXPECT_EQ(colour_space_name(ColourSpace::grey), "grey");
  EXPECT_EQ(colour_space_name(ColourSpace::cmyk), "cmyk");
}

}  // namespace
}  // namespace frisket
