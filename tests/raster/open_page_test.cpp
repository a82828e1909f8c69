#include <gmock/gmock.h>

#include <chrono>

#include "page_files.hpp"

namespace frisket {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;
using testing::Optional;

void expect_sample_picture(const Raster& raster, const std::string& what) {
  ASSERT_EQ(raster.width, 61) << what;
  ASSERT_EQ(raster.height, 47) << what;
  for (int y = 0; y < 47; ++y)
    for (int x = 0; x < 61; ++x)
      ASSERT_EQ(pixel(raster, x, y), (std::vector{x * 4, y * 5, (x * 7 + y * 13) % 256}))
          << what << x << "," << y;
}

TEST(OpenPage, EveryLosslessLayoutGivesTheSamePixels) {
  const ScratchFolder folder;
  for (const char* options :
       {"", "[compression=lzw]", "[compression=deflate]", "[compression=packbits]", "[compression=zstd]",
        "[compression=lzw,predictor=horizontal]", "[tile,tile-width=32,tile-height=32]", "[bigtiff]",
        "[tile,tile-width=16,tile-height=16,compression=deflate]",
        "[tile,pyramid,tile-width=16,tile-height=16]"})
    expect_sample_picture(opened(saved(sample_picture(), folder / "a.tif", options)), options);
  for (const char* options : {"", "[interlace]", "[compression=9]"})
    expect_sample_picture(opened(saved(sample_picture(), folder / "a.png", options)), options);
  expect_sample_picture(opened(saved(sample_picture(), folder / "a.webp", "[lossless]")), "WebP");
  expect_sample_picture(opened(saved(sample_picture(), folder / "a.ppm")), "PPM");
}

TEST(OpenPage, PlanarTiffWrittenByHand) {
  const ScratchFolder folder;
  const Raster raster = opened(written(folder / "a.tif", planar_tiff()));
  EXPECT_EQ(pixel(raster, 0, 0), (std::vector{0x01, 0x11, 0x21}));
  EXPECT_EQ(pixel(raster, 2, 1), (std::vector{0x06, 0x16, 0x26}));
}

TEST(OpenPage, OneByOnePixelIsAPage) {
  const ScratchFolder folder;
  const Raster raster = opened(written(folder / "a.ppm", std::string("P6 1 1 255\n\x0a\x14\x1e")));
  EXPECT_EQ(raster.width, 1);
  EXPECT_EQ(raster.height, 1);
  EXPECT_EQ(pixel(raster, 0, 0), (std::vector{10, 20, 30}));
  for (const char* name : {"b.png", "b.jpg", "b.tif", "b.webp"})
    EXPECT_EQ(opened(saved(sample_picture().crop(0, 0, 1, 1), folder / name)).rgb.size(), 3U) << name;
}

TEST(OpenPage, LossyKindsSaySo) {
  const ScratchFolder folder;
  EXPECT_TRUE(opened(saved(sample_picture(), folder / "a.jpg")).lossy);
  EXPECT_TRUE(opened(saved(sample_picture(), folder / "a.webp")).lossy);
  EXPECT_TRUE(opened(saved(sample_picture(), folder / "a.tif", "[compression=jpeg]")).lossy);
  EXPECT_FALSE(opened(saved(sample_picture(), folder / "b.webp", "[lossless]")).lossy);
  EXPECT_FALSE(opened(saved(sample_picture(), folder / "b.tif", "[compression=lzw]")).lossy);
  EXPECT_FALSE(opened(saved(sample_picture(), folder / "b.png")).lossy);
}

TEST(OpenPage, FormatsHaveTheirNames) {
  const ScratchFolder folder;
  const std::pair<const char*, const char*> names[] = {
      {"a.png", "PNG"}, {"a.tif", "TIFF"}, {"a.jpg", "JPEG"}, {"a.webp", "WebP"}, {"a.ppm", "PPM"}};
  for (const auto& [file, format] : names)
    EXPECT_EQ(opened(saved(sample_picture(), folder / file)).format, format);
}

/// The sample picture with an eXIf chunk by hand: one directory whose one entry is the orientation.
std::string png_with_orientation(const ScratchFolder& folder, int orientation) {
  const std::string block = std::string("MM\0*", 4) + big_endian(8) + std::string("\0\1\x01\x12\0\3", 6) +
                            big_endian(1) + std::string{0, static_cast<char>(orientation), 0, 0} +
                            big_endian(0);
  std::string png = png_signature;
  for (const auto& [type, data] : png_chunks(content(saved(sample_picture(), folder / "plain.png"))))
    png += (type == "IDAT" ? png_chunk("eXIf", block) : "") + png_chunk(type, data);
  return png;
}

// Exif 2.3, 4.6.4, tag 274: where the stored first row and first column lie on the upright picture; each line
// below names the stored pixel that must come to the upright top left corner, and whether sides are swapped.
TEST(OpenPage, OrientationIsObeyed) {
  const struct {
    int orientation, x, y;
    bool turned;
  } cases[] = {{1, 0, 0, false}, {2, 60, 0, false}, {3, 60, 46, false}, {4, 0, 46, false},
               {5, 0, 0, true},  {6, 0, 46, true},  {7, 60, 46, true},  {8, 60, 0, true}};
  const ScratchFolder folder;
  for (const auto& [orientation, x, y, turned] : cases) {
    vips::VImage picture = sample_picture();
    picture.set(VIPS_META_ORIENTATION, orientation);
    saved(picture, folder / "a.tif");
    saved(picture, folder / "a.webp", "[lossless]");
    written(folder / "a.png", png_with_orientation(folder, orientation));
    for (const char* name : {"a.tif", "a.png", "a.webp"}) {
      const Raster raster = opened(folder / name);
      EXPECT_EQ(raster.width, turned ? 47 : 61) << name << orientation;
      EXPECT_EQ(raster.height, turned ? 61 : 47) << name << orientation;
      EXPECT_EQ(pixel(raster, 0, 0), (std::vector{x * 4, y * 5, (x * 7 + y * 13) % 256}))
          << name << orientation;
    }
  }
}

/// Three pages of 61 x 47 px, the second upside down, the third its negative.
std::filesystem::path three_pages(const ScratchFolder& folder) {
  vips::VImage all =
      vips::VImage::arrayjoin({sample_picture(), sample_picture().rot180(), sample_picture().invert()},
                              vips::VImage::option()->set("across", 1));
  all.set(VIPS_META_PAGE_HEIGHT, 47);
  return saved(all, folder / "three.tif", "[compression=lzw]");
}

TEST(OpenPage, PagesOfATiffCountFromOne) {
  const ScratchFolder folder;
  const auto file = three_pages(folder);
  EXPECT_EQ(count_pages(file), 3);
  expect_sample_picture(open_page(file, 1, {}), "page 1");
  EXPECT_EQ(pixel(open_page(file, 2, {}), 60, 46), (std::vector{0, 0, 0}));
  EXPECT_EQ(pixel(open_page(file, 3, {}), 0, 0), (std::vector{255, 255, 255}));
  for (const int number : {-1, 0, 4})
    EXPECT_THAT(error_of([&] { open_page(file, number, {}); }), HasSubstr("the file has pages 1 to 3"));
  EXPECT_THAT(error_of([&] { open_page(saved(sample_picture(), folder / "a.png"), 2, {}); }),
              HasSubstr("there is no page 2; the file has one page"));
}

TEST(OpenPage, ReducedCopiesInATiffAreNoPages) {
  const ScratchFolder folder;
  EXPECT_EQ(
      count_pages(saved(sample_picture(), folder / "a.tif", "[tile,pyramid,tile-width=16,tile-height=16]")),
      1);
}

TEST(OpenPage, PagesInARingAreRefused) {
  const ScratchFolder folder;
  std::string tiff = planar_tiff();
  tiff.replace(8 + 2 + 10 * 12, 4, big_endian(8));  // the next directory is this one
  EXPECT_THAT(error_of([&] { count_pages(written(folder / "a.tif", tiff)); }),
              HasSubstr("point back at each other"));
}

TEST(OpenPage, PdfPagesAreRenderedAtTheResolutionAsked) {
  const ScratchFolder folder;
  const auto file = written(folder / "a.pdf", two_page_pdf);
  EXPECT_EQ(count_pages(file), 2);
  const Raster first = open_page(file, 1, 300.0);
  EXPECT_EQ(first.width, 600);  // 2 in
  EXPECT_EQ(first.height, 300);
  EXPECT_THAT(first.file_dpi, Optional(300.0));
  EXPECT_EQ(first.format, "PDF");
  EXPECT_FALSE(first.lossy);
  EXPECT_EQ(pixel(first, 298, 150), (std::vector{255, 0, 0}));
  EXPECT_EQ(pixel(first, 302, 150), (std::vector{255, 255, 255}));
  const Raster second = open_page(file, 2, 72.0);
  EXPECT_EQ(second.width, 144);
  EXPECT_EQ(pixel(second, 70, 30), (std::vector{0, 0, 255}));
  EXPECT_EQ(pixel(second, 70, 40), (std::vector{255, 255, 255}));
}

TEST(OpenPage, PdfNeedsAResolutionAndAPage) {
  const ScratchFolder folder;
  const auto file = written(folder / "a.pdf", two_page_pdf);
  EXPECT_THAT(error_of([&] { open_page(file, 1, {}); }), HasSubstr("at which resolution"));
  EXPECT_THAT(error_of([&] { open_page(file, 1, 0.0); }), HasSubstr("10 to 10 000 dpi"));
  EXPECT_THAT(error_of([&] { open_page(file, 3, 72.0); }), HasSubstr("the file has pages 1 to 2"));
}

TEST(OpenPage, BrokenPdfIsAnError) {
  const ScratchFolder folder;
  testing::internal::CaptureStderr();
  EXPECT_THAT(error_of([&] { open_page(written(folder / "a.pdf", "%PDF-1.4\nnothing\n%%EOF\n"), 1, 72.0); }),
              HasSubstr("the PDF"));
  EXPECT_EQ(testing::internal::GetCapturedStderr(), "");
}

// Bounds are held to the header: nothing of the page is decoded, and no memory taken for it.

TEST(Bounds, HugeHeaderWithoutDataFailsAtOnce) {
  const ScratchFolder folder;
  const std::string header = big_endian(60'000) + big_endian(60'000) + std::string("\x08\x02\0\0\0", 5);
  const auto png =
      written(folder / "a.png", png_signature + png_chunk("IHDR", header) + png_chunk("IEND", ""));
  const auto ppm = written(folder / "a.ppm", "P6 60000 60000 255\n");
  const auto start = std::chrono::steady_clock::now();
  for (const auto& file : {png, ppm})
    EXPECT_THAT(error_of([&] { opened(file); }), HasSubstr("60000 x 60000 px; at most 700 megapixels"));
  EXPECT_LT(std::chrono::steady_clock::now() - start, std::chrono::milliseconds(500));
}

TEST(Bounds, EveryKindIsHeldToThem) {
  const ScratchFolder folder;
  const RasterBounds few_pixels{61 * 47 - 1, 65'500, 2'000};
  const RasterBounds short_side{700'000'000, 60, 2'000};
  const RasterBounds just{61 * 47, 61, 1};
  for (const char* name : {"a.png", "a.tif", "a.jpg", "a.webp", "a.ppm"}) {
    const auto file = saved(sample_picture(), folder / name);
    EXPECT_THAT(error_of([&] { open_page(file, 1, {}, few_pixels); }), HasSubstr("megapixels")) << name;
    EXPECT_THAT(error_of([&] { open_page(file, 1, {}, short_side); }), HasSubstr("at most 60 px a side"))
        << name;
    EXPECT_EQ(error_of([&] { open_page(file, 1, {}, just); }), "") << name;
  }
  const auto pdf = written(folder / "a.pdf", two_page_pdf);
  EXPECT_THAT(error_of([&] { open_page(pdf, 1, 300.0, short_side); }), HasSubstr("600 x 300 px"));
  EXPECT_THAT(error_of([&] { count_pages(pdf, just); }), HasSubstr("at most 1"));
  EXPECT_THAT(error_of([&] { count_pages(three_pages(folder), just); }), HasSubstr("more than 1 pages"));
}

TEST(OpenPage, TwoRunsGiveTheSame) {
  const ScratchFolder folder;
  const auto file = saved(flat({20, 80, 0, 0}, VIPS_INTERPRETATION_CMYK), folder / "a.tif");
  EXPECT_EQ(opened(file).rgb, opened(file).rgb);
}

}  // namespace
}  // namespace frisket
