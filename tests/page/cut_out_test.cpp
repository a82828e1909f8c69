// Trim and bleed, placed by boxes and marks, cut out of a larger canvas.
#include "page/placing/cut_out.hpp"

#include <gtest/gtest.h>

#include "page/placing/locating.hpp"
#include "planted_page.hpp"

namespace frisket {
namespace {

using planted::number;
using planted::rect;

/// 100 x 60 mm with 3 mm of bleed, in blue, somewhere on a larger sheet.
Job blue_job() {
  Job job;
  job.trim = {Length::from_mm(100), Length::from_mm(60)};
  job.bleed = Edges::all(Length::from_mm(3));
  return job;
}
const std::string blue = rect(-3, -3, 106, 66, "#2060c0") + rect(10, 10, 20, 10, "#ffd000");
const planted::Canvas sheet{-22.4, -15.7, 140, 100};

std::string crop_marks() {
  std::string marks;
  for (const double x : {0.0, 100.0})
    marks += rect(x - 0.1, -12, 0.2, 7, "black") + rect(x - 0.1, 65, 0.2, 7, "black");
  for (const double y : {0.0, 60.0})
    marks += rect(-12, y - 0.1, 7, 0.2, "black") + rect(105, y - 0.1, 7, 0.2, "black");
  return marks;
}

bool is_blue(const Raster& raster, int x, int y) { return std::abs(raster.at(x, y)[2] - 0xc0) <= 2; }

void expect_blue_all_round(const Raster& raster) {
  for (int x = 0; x < raster.width; ++x)
    EXPECT_TRUE(is_blue(raster, x, 0) && is_blue(raster, x, raster.height - 1)) << x;
  for (int y = 0; y < raster.height; ++y)
    EXPECT_TRUE(is_blue(raster, 0, y) && is_blue(raster, raster.width - 1, y)) << y;
}

TEST(CutOut, OfAStraightAndACrookedSheetIsTheSamePage) {
  for (const double skew : {0.0, 0.7, -1.1}) {
    const std::string drawing =
        "<g transform='rotate(" + number(skew) + " 50 30)'>" + blue + crop_marks() + "</g>";
    const Raster canvas = planted::render(drawing, 300, sheet);
    const Location location = locate(canvas, 300, blue_job());
    ASSERT_EQ(location.placement.how, Placing::by_marks) << skew;
    EXPECT_NEAR(location.placement.skew, skew, 0.02);
    const CutOut cut = cut_out(canvas, location.placement, blue_job());
    EXPECT_EQ(cut.placement.skew, 0);
    EXPECT_NEAR(cut.raster.width, 106 / 25.4 * 300, 4);
    EXPECT_NEAR(cut.raster.height, 66 / 25.4 * 300, 4);
    expect_blue_all_round(cut.raster);
    // The left side of the yellow box, 10 mm in, half way down it.
    const int y = static_cast<int>(cut.placement.px_of_y(Length::from_mm(15)));
    const double side = cut.placement.px_of_x(Length::from_mm(10));
    EXPECT_TRUE(is_blue(cut.raster, static_cast<int>(side) - 2, y)) << skew;
    EXPECT_FALSE(is_blue(cut.raster, static_cast<int>(side) + 2, y)) << skew;
  }
}

TEST(CutOut, WhatTheCanvasLacksOfTheBleedIsWhite) {
  Raster canvas = planted::render(blue, 300, {-1, -15.7, 130, 100});  // only 1 mm on the left
  const double px = 300 / 25.4;
  canvas.boxes.trim = PixelRect{1 * px, 15.7 * px, 100 * px, 60 * px};
  const Location location = locate(canvas, 300, blue_job());
  ASSERT_EQ(location.placement.how, Placing::by_boxes);
  const CutOut cut = cut_out(canvas, location.placement, blue_job());
  EXPECT_EQ(cut.raster.at(0, 300)[2], 255);
  EXPECT_EQ(cut.raster.at(0, 300)[0], 255);
  EXPECT_TRUE(is_blue(cut.raster, 30, 300));
}

TEST(Locating, BoxesComeBeforeMarksAndMarksBeforeTheMiddle) {
  Raster canvas = planted::render(blue + crop_marks(), 300, sheet);
  const double px = 300 / 25.4;
  const Location by_marks = locate(canvas, 300, blue_job());
  EXPECT_EQ(by_marks.placement.how, Placing::by_marks);
  canvas.boxes.trim = PixelRect{22.4 * px, 15.7 * px, 100 * px, 60 * px};
  const Location by_boxes = locate(canvas, 300, blue_job());
  EXPECT_EQ(by_boxes.placement.how, Placing::by_boxes);
  EXPECT_NEAR(by_boxes.placement.trim_px.x, by_marks.placement.trim_px.x, 0.33);
  EXPECT_NEAR(by_boxes.placement.trim_px.y, by_marks.placement.trim_px.y, 0.33);
  canvas.boxes.trim->width -= 30;  // a box of another size is not placed by
  EXPECT_EQ(locate(canvas, 300, blue_job()).placement.how, Placing::by_marks);
  Job job = blue_job();
  job.marks = false;
  EXPECT_EQ(locate(canvas, 300, job).placement.how, Placing::centred);
}

TEST(Locating, ACropBoxOfTheRightSizeStandsForAMissingTrimBox) {
  Raster canvas = planted::render(blue, 300, sheet);
  const double px = 300 / 25.4;
  canvas.boxes.crop = PixelRect{19.4 * px, 12.7 * px, 106 * px, 66 * px};
  const Location location = locate(canvas, 300, blue_job());
  EXPECT_EQ(location.placement.how, Placing::by_boxes);
  EXPECT_NEAR(location.placement.trim_px.x, 22.4 * px, 1e-6);
}

TEST(Locating, MarksOfAnotherSizeLeaveThePageUnplaced) {
  const Raster canvas = planted::render(blue + crop_marks(), 300, sheet);
  Job job = blue_job();
  job.trim.width = Length::from_mm(90);
  const Location location = locate(canvas, 300, job);
  EXPECT_EQ(location.placement.how, Placing::fits_nothing);
  ASSERT_TRUE(location.marks);
  EXPECT_NEAR(location.marks->size.width.mm(), 100, 0.05);
}

}  // namespace
}  // namespace frisket
