// Placing: canvas sizes of published pixel counts, with and without bleed.
#include "page/placing/placing.hpp"

#include <gtest/gtest.h>

namespace frisket {
namespace {

Job job_of(double width_mm, double height_mm, double bleed_mm) {
  Job job;
  job.trim = {Length::from_mm(width_mm), Length::from_mm(height_mm)};
  job.bleed = Edges::all(Length::from_mm(bleed_mm));
  return job;
}

TEST(Placing, ByTheBleeds) {
  // Letter with 1/8 in bleed at 300 ppi is 2625 x 3375 px (computed from ANSI letter, exact).
  const Placement placed = place(2625, 3375, 300, job_of(215.9, 279.4, 3.175));
  EXPECT_EQ(placed.how, Placing::by_bleed);
  EXPECT_DOUBLE_EQ(placed.trim_px.x, 37.5);
  EXPECT_DOUBLE_EQ(placed.trim_px.y, 37.5);
  EXPECT_DOUBLE_EQ(placed.trim_px.width, 2550);
  EXPECT_DOUBLE_EQ(placed.trim_px.height, 3300);
}

TEST(Placing, OfACanvasRoundedToWholePixels) {
  // A4 with 3 mm bleed at 300 ppi is 2551.18 x 3578.74 px: renderers round it up or down.
  for (const auto& [width, height] : {std::pair(2551, 3579), std::pair(2552, 3578)}) {
    const Placement placed = place(width, height, 300, job_of(210, 297, 3));
    EXPECT_EQ(placed.how, Placing::by_bleed);
    EXPECT_NEAR(placed.trim_px.x, 3 / 25.4 * 300, 1e-9);
  }
}

TEST(Placing, ByTheTrimWhereThereIsNoBleed) {
  const Placement placed = place(2550, 3300, 300, job_of(215.9, 279.4, 3.175));
  EXPECT_EQ(placed.how, Placing::by_trim);
  EXPECT_EQ(placed.trim_px.x, 0.0);
}

TEST(Placing, InTheMiddleOfALargerCanvas) {
  const Placement placed = place(2825, 3575, 300, job_of(215.9, 279.4, 3.175));
  EXPECT_EQ(placed.how, Placing::centred);
  EXPECT_NEAR(placed.trim_px.x, 137.5, 1e-9);
}

TEST(Placing, OfASmallerOrTurnedCanvasFitsNothing) {
  EXPECT_EQ(place(2480, 3508, 300, job_of(215.9, 279.4, 3.175)).how, Placing::fits_nothing);
  EXPECT_EQ(place(3375, 2625, 300, job_of(215.9, 279.4, 3.175)).how, Placing::fits_nothing);
  EXPECT_EQ(place(1, 1, 300, job_of(215.9, 279.4, 3.175)).how, Placing::fits_nothing);
}

TEST(Placing, OfACanvasThatIsRightAtAnotherResolutionFitsNothing) {
  // 154 x 216 mm at 300 dpi, in a file that says 72: the trim hardly lies in its middle.
  EXPECT_EQ(place(1819, 2551, 72, job_of(148, 210, 3)).how, Placing::fits_nothing);
  // A square with a margin all round has the size of a square at another resolution by chance.
  EXPECT_EQ(place(2400, 2400, 300, job_of(101.6, 101.6, 0)).how, Placing::centred);
}

TEST(Placing, OfADlLeafletIsNotA4AtHalfTheResolution) {
  // 99 x 210 mm with 3 mm bleed at 300 ppi is as many pixels wide as A4 at 150: the height tells them apart.
  EXPECT_EQ(place(1240, 1754, 300, job_of(99, 210, 3)).how, Placing::fits_nothing);
  EXPECT_EQ(place(1240, 2551, 300, job_of(99, 210, 3)).how, Placing::by_bleed);
}

TEST(Placing, ToleratesHalfAMillimetreAndNoMore) {
  // 0.5 mm at 300 dpi is 5.9 px.
  EXPECT_EQ(place(2630, 3375, 300, job_of(215.9, 279.4, 3.175)).how, Placing::by_bleed);
  EXPECT_NE(place(2632, 3375, 300, job_of(215.9, 279.4, 3.175)).how, Placing::by_bleed);
}

}  // namespace
}  // namespace frisket
