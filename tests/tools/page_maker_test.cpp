// The page maker is run as it is used: an SVG in millimetres in, a PNG that knows its resolution out.
#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <vips/vips8>

#include "scratch_folder.hpp"

namespace {

namespace fs = std::filesystem;

class PageMaker : public testing::Test {
 protected:
  /// Renders an SVG with `content`, 25.4 x 12.7 mm with 0,0 one pixel (at 300 dpi) inside the corner.
  vips::VImage page(const std::string& content, const std::string& dpi = "300") {
    std::ofstream(folder_ / "page.svg")
        << R"(<svg xmlns="http://www.w3.org/2000/svg" )"
        << R"(xmlns:xlink="http://www.w3.org/1999/xlink" width="25.4mm" height="12.7mm" )"
        << R"(viewBox="-0.0846667 -0.0846667 25.4 12.7">)" << content << "</svg>";
    const std::string command = std::string(PAGE_MAKER) + " '" + (folder_ / "page.svg").string() + "' '" +
                                (folder_ / "page.png").string() + "' --dpi " + dpi;
    EXPECT_EQ(std::system(command.c_str()), 0);
    return vips::VImage::new_from_file((folder_ / "page.png").c_str()).copy_memory();
  }

  const frisket::ScratchFolder scratch_;
  const fs::path folder_ = scratch_.path();
};

TEST_F(PageMaker, GivesThePixelsAndTheResolutionAskedFor) {
  for (const auto& [dpi, width] : {std::pair{"300", 300}, std::pair{"150", 150}}) {
    const vips::VImage made = page("", dpi);
    EXPECT_EQ(made.width(), width);
    EXPECT_EQ(made.height(), width / 2);
    EXPECT_EQ(made.bands(), 3);
    // PNG keeps whole pixels per metre (PNG specification, pHYs): 0.0005 px/mm at most is lost.
    EXPECT_NEAR(made.xres() * 25.4, std::atof(dpi), 0.02);
  }
}

TEST_F(PageMaker, PutsPaperWhereNothingIsDrawn) { EXPECT_EQ(page("").min(), 255); }

TEST_F(PageMaker, DrawsEdgesWhereTheMillimetresSay) {
  const vips::VImage made =
      page(R"(<rect x="8.382" y="-1" width="99" height="99" fill="#000"/>)");  // 99 px + 1
  EXPECT_EQ(made.getpoint(99, 75)[0], 255);
  EXPECT_EQ(made.getpoint(100, 75)[0], 0);
}

TEST_F(PageMaker, LeavesPicturesAloneThatLieOnWholePixels) {
  const vips::VImage picture =
      vips::VImage::gaussnoise(60, 30, vips::VImage::option()->set("mean", 128)->set("seed", 7))
          .cast(VIPS_FORMAT_UCHAR)
          .copy_memory();
  fs::create_directories(folder_ / "pictures");
  picture.pngsave((folder_ / "pictures" / "grain.png").c_str());
  // 21 px from the left edge and 11 px from the top one.
  const vips::VImage made = page(R"(<image xlink:href="pictures/grain.png" x="1.693333" y="0.846667" )"
                                 R"(width="5.08" height="2.54"/>)");
  const vips::VImage placed = made.extract_area(21, 11, 60, 30).extract_band(0);
  EXPECT_EQ((placed - picture).abs().max(), 0);
}

TEST_F(PageMaker, SaysWhatItWantsWhenAskedWrongly) {
  EXPECT_NE(std::system((std::string(PAGE_MAKER) + " one.svg 2>/dev/null").c_str()), 0);
  EXPECT_NE(std::system((std::string(PAGE_MAKER) + " missing.svg out.png 2>/dev/null").c_str()), 0);
}

}  // namespace
