#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <random>
#include <vips/vips8>

#include "frisket/report.hpp"
#include "opencv.hpp"
#include "report/sample_report.hpp"
#include "report/svg.hpp"
#include "scratch_folder.hpp"

namespace frisket {
namespace {

using testing::HasSubstr;
using testing::Not;

/// True where expat, by way of Python, takes the document for well-formed XML.
bool well_formed(const std::string& xml) {
  const ScratchFolder folder;
  put(folder / "document.svg", xml);
  const std::string command = "python3 -c 'import sys, xml.dom.minidom as m; m.parse(sys.argv[1])' " +
                              (folder / "document.svg").string() + " 2>/dev/null";
  return std::system(command.c_str()) == 0;
}

vips::VImage opened(const std::vector<std::uint8_t>& png) {
  VipsBlob* blob = vips_blob_copy(png.data(), png.size());
  const vips::VImage image = vips::VImage::pngload_buffer(blob).copy_memory();
  vips_area_unref(VIPS_AREA(blob));
  return image;
}

TEST(Svg, EscapesTextFromOutside) {
  EXPECT_EQ(xml_escaped("<a href=\"x\">&'\n\x01"), "&lt;a href=&quot;x&quot;&gt;&amp;&#39;\\n\\x01");
}

TEST(OverlaySvg, StaysWellFormedWhateverTheFileIsCalled) {
  Report report = clear_report(leaflet_job(), 300, Side::outside);
  report.page.file = "</text><script>alert('x')</script>\"&\x01\xFF]]>.png";
  Finding finding = headline_finding();
  finding.box = finding.whole = {};
  finding.message = "<b>bold</b> & \"quoted\"";
  add_findings(report, {finding});
  const std::string svg = overlay_svg(report, 0.4);
  EXPECT_TRUE(well_formed(svg));
  EXPECT_THAT(svg, Not(HasSubstr("<script")));
  EXPECT_THAT(svg, Not(HasSubstr("<b>")));
}

TEST(OverlaySvg, HasOneGroupForEachKindOfLine) {
  const std::string folded = overlay_svg(clear_report(leaflet_job(), 300, Side::outside), 0.4);
  for (const std::string id : {"trim", "bleed", "safe-zone", "folds", "findings", "strip"})
    EXPECT_THAT(folded, HasSubstr("<g id=\"" + id + "\""));
  const Report flat = clear_report(flat_job({Length::from_mm(85), Length::from_mm(55)}, {}, {}), 300);
  const std::string plain = overlay_svg(flat, 1);
  EXPECT_THAT(plain, Not(HasSubstr("id=\"folds\"")));
  EXPECT_THAT(plain, Not(HasSubstr("id=\"bleed\"")));
}

TEST(OverlaySvg, SaysInWordsThatNothingWasFound) {
  EXPECT_THAT(overlay_svg(clear_report(leaflet_job(), 300), 0.4), HasSubstr("No finding"));
}

TEST(OverlaySvg, TellsFindingsWithoutAPlaceInTheStrip) {
  Report report = clear_report(leaflet_job(), 300);
  report.trim_px = {};
  report.px_per_mm = 0;
  Finding finding;
  finding.check = "page-size";
  finding.severity = Severity::fix;
  finding.message = "It would be A4.";
  add_findings(report, {finding});
  const std::string svg = overlay_svg(report, 0.4);
  EXPECT_THAT(svg, HasSubstr("It would be A4."));
  EXPECT_THAT(svg, Not(HasSubstr("id=\"trim\"")));
}

TEST(OverlayPng, ShrinksThePageAndAddsTheStripBelow) {
  const Report report = clear_report(leaflet_job(), 300, Side::outside);
  const vips::VImage image = opened(overlay_png(sample_raster(report), report));
  EXPECT_EQ(image.width(), 1600);
  EXPECT_GT(image.height(), 1244);  // 2625 x 1600 / 3375 = 1244.4
  EXPECT_LT(image.height(), 1400);
  EXPECT_EQ(image.bands(), 3);
}

TEST(OverlayPng, DimsThePageToGreyAndDrawsTheTrimWhereItIs) {
  Report report = clear_report(leaflet_job(), 300);
  Raster black = sample_raster(report);
  std::ranges::fill(black.rgb, std::uint8_t{0});
  const vips::VImage image = opened(overlay_png(black, report));
  const std::vector<double> ground = image.getpoint(300, 300);
  EXPECT_NEAR(ground[0], 133, 2);  // black keeps 48 % of its darkness
  EXPECT_EQ(ground[0], ground[1]);
  EXPECT_EQ(ground[0], ground[2]);
  const int trim = static_cast<int>(37.5 * 1600 / 3375);  // 17.8: the line is 1.6 wide
  EXPECT_LT(image.getpoint(trim, 300)[0], 60);
}

/// The page in grey, shrunk as a whole: half by half, then to `size`, and dimmed.
cv::Mat plainly_dimmed(const Raster& raster, cv::Size size) {
  cv::Mat grey, sized;
  cv::cvtColor(view_of(raster), grey, cv::COLOR_RGB2GRAY);
  while (grey.cols / 2 >= size.width && grey.rows / 2 >= size.height) {
    const cv::Size half(grey.cols / 2, grey.rows / 2);
    cv::resize(grey({0, 0, 2 * half.width, 2 * half.height}), sized, half, 0, 0, cv::INTER_AREA);
    cv::swap(sized, grey);
  }
  cv::resize(grey, sized, size, 0, 0, cv::INTER_AREA);
  sized.convertTo(sized, CV_8U, 0.48, 255 * (1 - 0.48));
  return sized;
}

TEST(OverlayPng, ShrinksInPiecesAsItWouldInOne) {
  const Report report = clear_report(leaflet_job(), 600, Side::outside);
  Raster raster = sample_raster(report);
  std::mt19937 random(7);
  for (std::uint8_t& sample : raster.rgb) sample = static_cast<std::uint8_t>(random());
  const vips::VImage image = opened(overlay_png(raster, report, 700));
  const cv::Mat plain = plainly_dimmed(raster, {700, 544});  // 5250 x 700 / 6750 = 544.4
  for (int y = 60; y < 480; y += 7)
    for (int x = 60; x < 200; x += 3)  // clear of the lines of trim, safe zone and folds
      ASSERT_EQ(image.getpoint(x, y)[0], plain.at<std::uint8_t>(y, x)) << x << "," << y;
}

TEST(OverlayPng, TwoRunsGiveTheSameBytes) {
  Report report = clear_report(leaflet_job(), 150, Side::inside);
  add_findings(report, scattered_findings(report, 12, 2));
  const Raster raster = sample_raster(report);
  EXPECT_EQ(overlay_png(raster, report), overlay_png(raster, report));
}

TEST(OverlayPng, ManagesAPageOfOnePixel) {
  Report report = clear_report(leaflet_job(), 300);
  report.width_px = report.height_px = 1;
  report.trim_px = {};
  report.px_per_mm = 0;
  EXPECT_GE(opened(overlay_png(sample_raster(report), report)).width(), 400);
}

}  // namespace
}  // namespace frisket
