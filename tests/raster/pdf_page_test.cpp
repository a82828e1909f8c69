// Boxes of PDF pages: a rectangle is painted where the trim box is said to lie, and has to be found in the
// pixels where the raster says that the box is. The painting is done by poppler.
#include <gmock/gmock.h>

#include <chrono>

#include "page_files.hpp"

namespace frisket {
namespace {

using testing::HasSubstr;

/// A one-page PDF, its page tree and its page with the entries given, and red painted over `red`.
std::string pdf(const std::string& tree, const std::string& page, const std::string& red,
                const std::string& trailer = "") {
  const std::string paint = "1 0 0 rg " + red + " re f\n";
  return "%PDF-1.6\n1 0 obj <</Type/Catalog/Pages 2 0 R>> endobj\n"
         "2 0 obj <</Type/Pages/Count 1/Kids[3 0 R]" +
         tree +
         ">> endobj\n"
         "3 0 obj <</Type/Page/Parent 2 0 R/Contents 4 0 R" +
         page +
         ">> endobj\n"
         "4 0 obj <</Length " +
         std::to_string(paint.size()) + ">> stream\n" + paint +
         "endstream endobj\n"
         "trailer <</Root 1 0 R/Size 5" +
         trailer + ">>\nstartxref\n0\n%%EOF\n";
}

/// The box of what is red on a raster.
PixelRect red_on(const Raster& raster) {
  int left = raster.width, top = raster.height, right = 0, bottom = 0;
  for (int y = 0; y < raster.height; ++y)
    for (int x = 0; x < raster.width; ++x)
      if (raster.at(x, y)[0] > 200 && raster.at(x, y)[1] < 128) {
        left = std::min(left, x), right = std::max(right, x + 1);
        top = std::min(top, y), bottom = std::max(bottom, y + 1);
      }
  return {double(left), double(top), double(right - left), double(bottom - top)};
}

void expect_same(const PixelRect& box, const PixelRect& red, const std::string& what) {
  EXPECT_NEAR(box.x, red.x, 0.51) << what;
  EXPECT_NEAR(box.y, red.y, 0.51) << what;
  EXPECT_NEAR(box.width, red.width, 1.01) << what;
  EXPECT_NEAR(box.height, red.height, 1.01) << what;
}

TEST(PdfPage, TrimBoxLiesWhereItIsPainted) {
  const ScratchFolder folder;
  struct Case {
    std::string what, tree, page;
    int width, height;  ///< at 144 dpi
  };
  const std::string trim = "/TrimBox[40 60 150 230]";
  for (const Case& one : {
           Case{"plain", "", "/MediaBox[0 0 200 300]" + trim, 400, 600},
           Case{"media box with an origin of its own", "", "/MediaBox[10 20 210 320]" + trim, 400, 600},
           Case{"turned by a quarter", "", "/MediaBox[10 20 210 320]/Rotate 90" + trim, 600, 400},
           Case{"turned by half", "", "/MediaBox[10 20 210 320]/Rotate 180" + trim, 400, 600},
           Case{"turned by three quarters", "", "/MediaBox[10 20 210 320]/Rotate 270" + trim, 600, 400},
           Case{"turned back by a quarter", "", "/MediaBox[10 20 210 320]/Rotate -90" + trim, 600, 400},
           Case{"inherited", "/MediaBox[10 20 210 320]/Rotate 90", trim, 600, 400},
           Case{"a unit of its own", "", "/MediaBox[0 0 200 300]/UserUnit 1.5" + trim, 600, 900},
           Case{"turned, a unit of its own", "/Rotate 270", "/MediaBox[0 5 200 305]/UserUnit 2" + trim, 1200,
                800},
           Case{"cropped", "", "/MediaBox[10 20 210 320]/CropBox[45 70 120 200]" + trim, 400, 600},
           Case{"crop inherited", "/CropBox[45 70 120 200]", "/MediaBox[10 20 210 320]/Rotate 90" + trim, 600,
                400},
           Case{"corners the other way round", "", "/MediaBox[210 320 10 20]/TrimBox[150 230 40 60]", 400,
                600},
       }) {
    const auto file = written(folder / "a.pdf", pdf(one.tree, one.page, "40 60 110 170"));
    const Raster raster = open_page(file, 1, 144.0);
    EXPECT_EQ(raster.width, one.width) << one.what;
    EXPECT_EQ(raster.height, one.height) << one.what;
    ASSERT_TRUE(raster.boxes.trim) << one.what;
    expect_same(*raster.boxes.trim, red_on(raster), one.what);
    EXPECT_EQ(raster.boxes.crop.has_value(), one.what.starts_with("crop")) << one.what;
    EXPECT_FALSE(raster.boxes.bleed) << one.what;
  }
}

TEST(PdfPage, BleedBoxIsReadToo) {
  const ScratchFolder folder;
  const auto file = written(
      folder / "a.pdf",
      pdf("", "/MediaBox[0 0 200 300]/TrimBox[50 60 150 240]/BleedBox[40 50 160 250]", "40 50 120 200"));
  const Raster raster = open_page(file, 1, 144.0);
  ASSERT_TRUE(raster.boxes.bleed);
  expect_same(*raster.boxes.bleed, red_on(raster), "bleed");
}

TEST(PdfPage, BoxesAreCutDownToTheMediaBox) {  // ISO 32000-1, 14.11.2
  const ScratchFolder folder;
  const auto file =
      written(folder / "a.pdf", pdf("", "/MediaBox[0 0 100 100]/TrimBox[-50 10 400 90]", "0 10 100 80"));
  const Raster raster = open_page(file, 1, 72.0);
  ASSERT_TRUE(raster.boxes.trim);
  EXPECT_EQ(*raster.boxes.trim, (PixelRect{0, 10, 100, 80}));
}

TEST(PdfPage, AMissingOrSenselessBoxStaysUnknown) {
  const ScratchFolder folder;
  for (const char* boxes : {"/MediaBox[0 0 100 100]", "/MediaBox[0 0 100 100]/TrimBox[1 2 3]",
                            "/MediaBox[0 0 100 100]/TrimBox/None", "/MediaBox[0 0 100 100]/TrimBox[5 5 5 80]",
                            "/MediaBox[0 0 100 100]/TrimBox[200 200 300 300]"}) {
    const Raster raster = open_page(written(folder / "a.pdf", pdf("", boxes, "0 0 9 9")), 1, 72.0);
    EXPECT_FALSE(raster.boxes.trim) << boxes;
  }
}

TEST(PdfPage, ALockedDocumentIsAnErrorThatSaysSo) {
  const ScratchFolder folder;
  // The standard security handler with a password that nobody gives (ISO 32000-1, 7.6.3).
  const std::string lock = "/Encrypt<</Filter/Standard/V 1/R 2/P -4/O<" + std::string(64, 'A') + ">/U<" +
                           std::string(64, 'B') + ">>>/ID[<00><00>]";
  const auto file = written(folder / "a.pdf", pdf("", "/MediaBox[0 0 100 100]", "0 0 9 9", lock));
  EXPECT_THAT(error_of([&] { open_page(file, 1, 72.0); }), HasSubstr("locked with a password"));
}

TEST(PdfPage, HostilePageTreesAreRefusedQuietlyAndSoon) {
  const ScratchFolder folder;
  testing::internal::CaptureStderr();
  const auto began = std::chrono::steady_clock::now();
  const std::string deep(100'000, '[');
  for (const std::string& text :
       {pdf("/Parent 2 0 R", "/Kids[2 0 R]", "0 0 9 9"),                        // a page that is its own tree
        pdf("", "/MediaBox 3 0 R/TrimBox 3 0 R", "0 0 9 9"),                    // boxes that are no boxes
        pdf("", "/MediaBox" + deep, "0 0 9 9"),                                 // nesting without end
        pdf("", "/MediaBox[0 0 1e38 1e38]/TrimBox[0 0 1e38 1e38]", "0 0 9 9"),  // no size to render
        pdf("", "/MediaBox[0 0 100 100]/UserUnit 1e30", "0 0 9 9"),
        pdf("", "/MediaBox[0 0 100 100]/UserUnit 70000", "0 0 9 9")}) {
    try {
      open_page(written(folder / "a.pdf", text), 1, 72.0);
    } catch (const Error& error) {
      EXPECT_STRNE(error.what(), "");
    }
  }
  EXPECT_EQ(testing::internal::GetCapturedStderr(), "");
  EXPECT_LT(std::chrono::steady_clock::now() - began, std::chrono::seconds(20));
}

}  // namespace
}  // namespace frisket
