#include <gmock/gmock.h>

#include "page_files.hpp"
#include "raster/imaging_library.hpp"

namespace frisket {
namespace {

TEST(ImagingLibrary, LoadersThatFrisketDoesNotNeedAreShut) {
  const ScratchFolder folder;
  const auto drawing =
      written(folder / "a.svg", "<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'/>");
  const auto table = written(folder / "a.csv", "1,2\n3,4\n");
  EXPECT_THROW(vips::VImage::svgload(drawing.c_str()), vips::VError);
  EXPECT_THROW(vips::VImage::csvload(table.c_str()), vips::VError);
  EXPECT_THROW(vips::VImage::new_from_file(drawing.c_str()), vips::VError);
}

TEST(ImagingLibrary, TrustedLoadersAndUntrustedSaversAreShutToo) {
  const ScratchFolder folder;
  const auto table = written(folder / "a.mat", "2 1\n1 2\n");
  EXPECT_THROW(vips::VImage::matrixload(table.c_str()), vips::VError);
  EXPECT_THROW(sample_picture().fitssave((folder / "a.fits").c_str()), vips::VError);
}

TEST(ImagingLibrary, OfThePlugInsOnlyThatForPdfIsLoadedAndOnlyFromMemoryItOpensPages) {
  load_pdf_plug_in();
  EXPECT_NE(vips_type_find("VipsOperation", "pdfload_buffer"), 0U);
  for (const char* operation : {"heifload", "jxlload", "magickload", "openslideload"})
    EXPECT_EQ(vips_type_find("VipsOperation", operation), 0U) << operation;
  const ScratchFolder folder;
  vips_error_clear();  // what other tests were refused
  EXPECT_THROW(vips::VImage::pdfload(written(folder / "a.pdf", two_page_pdf).c_str()), vips::VError);
  EXPECT_THAT(vips_error_buffer(), testing::HasSubstr("blocked"));
  vips_error_clear();
}

TEST(ImagingLibrary, DrawingFromMemoryIsOpenForTheOverlay) {
  const std::string svg = "<svg xmlns='http://www.w3.org/2000/svg' width='9' height='7'/>";
  VipsBlob* blob = vips_blob_copy(svg.data(), svg.size());
  EXPECT_EQ(vips::VImage::svgload_buffer(blob).height(), 7);
  vips_area_unref(VIPS_AREA(blob));
}

TEST(ImagingLibrary, WarningsAreNotedAndNeverPrinted) {
  const ScratchFolder folder;
  // StripByteCounts (tag 279, 0x117), one value: too few for the strip, which libtiff mends with a warning.
  std::string tiff = content(saved(sample_picture(), folder / "a.tif"));
  const std::size_t counts = tiff.find(std::string("\x17\x01\x04\x00\x01\x00\x00\x00", 8));
  ASSERT_NE(counts, std::string::npos);
  tiff.replace(counts + 8, 4, std::string("\x09\0\0\0", 4));
  testing::internal::CaptureStderr();
  testing::internal::CaptureStdout();
  const Raster raster = opened(written(folder / "a.tif", tiff));
  g_log("VIPS", G_LOG_LEVEL_WARNING, "not for a terminal");
  EXPECT_EQ(testing::internal::GetCapturedStderr(), "");
  EXPECT_EQ(testing::internal::GetCapturedStdout(), "");
  EXPECT_THAT(raster.notes, testing::ElementsAre(testing::HasSubstr("the TIFF gave a warning: Bogus")));
  EXPECT_THAT(opened(saved(sample_picture(), folder / "b.tif")).notes, testing::IsEmpty());
}

}  // namespace
}  // namespace frisket
