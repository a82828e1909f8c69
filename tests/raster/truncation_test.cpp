// A file cut anywhere is refused: what a decoder fills in must never be inspected as if it were the page.
// `vips avg` of libvips 8.14 takes 3 of 4 such PNGs and JPEGs without a word.
#include <gmock/gmock.h>

#include "page_files.hpp"

namespace frisket {
namespace {

using testing::HasSubstr;

struct Variant {
  std::string name;     ///< file name; its extension chooses the format
  std::string options;  ///< libvips' save options
  int bands = 3;
};

void PrintTo(const Variant& variant, std::ostream* out) { *out << variant.name << variant.options; }

class Cut : public testing::TestWithParam<Variant> {};

std::vector<std::size_t> cut_points(std::size_t size) {
  std::vector<std::size_t> points{1, 2, 4, 8, 12, 20, 33};
  for (std::size_t i = 1; i < 30; ++i) points.push_back(size * i / 30);
  for (std::size_t back = 1; back <= 12; ++back) points.push_back(size - back);
  return points;
}

TEST_P(Cut, IsRefusedEverywhere) {
  const ScratchFolder folder;
  const Variant& variant = GetParam();
  const vips::VImage picture = variant.bands == 1 ? sample_picture().extract_band(1) : sample_picture();
  const std::filesystem::path file = saved(picture, folder / variant.name, variant.options);
  const std::string whole = content(file);
  ASSERT_EQ(opened(file).width, 61);
  for (const std::size_t length : cut_points(whole.size())) {
    written(file, whole.substr(0, length));
    EXPECT_NE(error_of([&] { opened(file); }), "") << length << " of " << whole.size() << " bytes";
  }
}

INSTANTIATE_TEST_SUITE_P(
    AllKinds, Cut,
    testing::Values(
        Variant{"a.png", ""}, Variant{"interlaced.png", "[interlace]"}, Variant{"palette.png", "[palette]"},
        Variant{"grey.png", "[bitdepth=1]", 1}, Variant{"a.jpg", ""},
        Variant{"progressive.jpg", "[interlace]"}, Variant{"grey.jpg", "", 1}, Variant{"lossy.webp", ""},
        Variant{"lossless.webp", "[lossless]"}, Variant{"raw.tif", ""},
        Variant{"lzw.tif", "[compression=lzw]"},
        Variant{"deflate.tif", "[compression=deflate,predictor=horizontal]"},
        Variant{"jpeg.tif", "[compression=jpeg]"}, Variant{"packbits.tif", "[compression=packbits]"},
        Variant{"tiles.tif", "[tile,tile-width=32,tile-height=16,compression=lzw]"},
        Variant{"bit.tif", "[bitdepth=1,compression=ccittfax4]", 1}, Variant{"big.tif", "[bigtiff]"},
        Variant{"a.ppm", ""}, Variant{"a.pgm", "", 1}, Variant{"a.pbm", "[bitdepth=1]", 1}),
    [](const testing::TestParamInfo<Variant>& variant) {
      std::string name = variant.param.name;
      for (char& c : name)
        if (c == '.') c = '_';
      return name;
    });

TEST(Cut, PlainPpmMissingANumber) {
  const ScratchFolder folder;
  const std::string whole = "P3\n# two pixels\n2 1\n255\n255 0 0\n0 128 17\n";
  EXPECT_EQ(pixel(opened(written(folder / "a.ppm", whole)), 1, 0), (std::vector{0, 128, 17}));
  for (std::size_t length = 1; length + 1 < whole.size(); ++length)
    EXPECT_NE(error_of([&] { opened(written(folder / "a.ppm", whole.substr(0, length))); }), "") << length;
}

TEST(Cut, MessageSaysWhatIsMissingAndWhatToDo) {
  const ScratchFolder folder;
  const struct {
    const char *name, *options, *missing;
    std::size_t bytes;
  } cases[] = {{"a.png", "", "it has no end chunk", 12},
               {"a.jpg", "", "it has no end-of-image marker", 2},
               {"a.webp", "", "7 bytes are missing", 7},
               {"a.ppm", "", "rows are missing", 1},
               {"a.tif", "[compression=lzw]", "page 1 is cut off", 400}};
  for (const auto& [name, options, missing, bytes] : cases) {
    const std::string whole = content(saved(sample_picture(), folder / name, options));
    written(folder / name, whole.substr(0, whole.size() - bytes));
    EXPECT_THAT(error_of([&, &name = name] { opened(folder / name); }),
                testing::AllOf(HasSubstr(std::string("ends early (") + missing + ")"),
                               HasSubstr("the file is truncated; export or copy it again")));
  }
}

// The directory of a TIFF may come first; then a cut leaves it whole and takes strips from the end.
TEST(Cut, TiffWithItsDirectoryInFrontLosesAStrip) {
  const ScratchFolder folder;
  const std::string whole = planar_tiff();
  ASSERT_EQ(opened(written(folder / "a.tif", whole)).width, 3);
  for (const std::size_t bytes : {1U, 6U, 13U})
    EXPECT_THAT(error_of([&] { opened(written(folder / "a.tif", whole.substr(0, whole.size() - bytes))); }),
                HasSubstr("of 3 lies beyond the end of the file"))
        << bytes;
}

// A container that was closed over a hole.

TEST(Hole, PngWithHalfOfItsDataIsRefused) {
  const ScratchFolder folder;
  for (const char* options : {"", "[interlace]"}) {
    std::string png = png_signature;
    for (const auto& [type, data] : png_chunks(content(saved(sample_picture(), folder / "a.png", options))))
      png += png_chunk(type, type == "IDAT" ? data.substr(0, data.size() / 2) : data);
    EXPECT_THAT(error_of([&] { opened(written(folder / "b.png", png)); }), HasSubstr("PNG")) << options;
  }
}

TEST(Hole, PngWithAFlippedBitIsRefused) {
  const ScratchFolder folder;
  std::string png = content(saved(sample_picture(), folder / "a.png", "[compression=0]"));
  for (const std::size_t at : {png.size() / 3, png.size() / 2, png.size() * 9 / 10}) {
    std::string flipped = png;
    flipped[at] = static_cast<char>(flipped[at] ^ 1);
    EXPECT_NE(error_of([&] { opened(written(folder / "b.png", flipped)); }), "") << at;
  }
}

TEST(Hole, JpegClosedInTheMiddleOfAScanIsRefused) {
  const ScratchFolder folder;
  for (const char* options : {"[strip]", "[strip,interlace]"}) {
    const std::string jpeg = content(saved(sample_picture(), folder / "a.jpg", options));
    for (const std::size_t percent : {60U, 80U, 95U})
      EXPECT_THAT(
          error_of([&] {
            opened(written(folder / "b.jpg", jpeg.substr(0, jpeg.size() * percent / 100) + "\xff\xd9"));
          }),
          HasSubstr("the JPEG"))
          << options << percent;
  }
}

TEST(Hole, BytesAfterTheEndDoNoHarm) {
  const ScratchFolder folder;
  for (const char* name : {"a.jpg", "a.png"}) {
    const std::string whole = content(saved(sample_picture(), folder / name));
    EXPECT_EQ(opened(written(folder / name, whole + "left over")).width, 61) << name;
  }
}

TEST(Hole, WebpWhoseSizeWasMendedIsRefused) {
  const ScratchFolder folder;
  std::string webp = simple_webp(folder, "");
  ASSERT_EQ(opened(written(folder / "a.webp", webp)).width, 61);
  webp.resize(webp.size() / 4 * 2);
  webp.replace(4, 4, little_endian(webp.size() - 8));
  webp.replace(16, 4, little_endian(webp.size() - 20));
  EXPECT_THAT(error_of([&] { opened(written(folder / "b.webp", webp)); }), HasSubstr("the WebP"));
}

TEST(Hole, PdfWithoutItsEndIsRefused) {
  const ScratchFolder folder;
  const auto file = written(folder / "a.pdf", "%PDF-1.4\n1 0 obj <</Type/Catalog>> endobj\n");
  EXPECT_THAT(error_of([&] { open_page(file, 1, 72.0); }), HasSubstr("the PDF ends early"));
  EXPECT_THAT(error_of([&] { count_pages(file); }), HasSubstr("the PDF ends early"));
}

}  // namespace
}  // namespace frisket
