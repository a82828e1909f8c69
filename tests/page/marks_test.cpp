// Crop marks drawn by librsvg round a trim whose place is known. How marks are drawn is common practice, no
// source.
#include "page/placing/marks.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "planted_page.hpp"

namespace frisket {
namespace {

using planted::number;
using planted::rect;

constexpr double width = 120, height = 80;  // of the trim, mm
const planted::Canvas sheet{-20.03, -18.57, 160, 118};

struct Style {
  double weight = 0.25, offset = 3, length = 6;
  std::string ink = "black", dash{};
};

std::string line(double x1, double y1, double x2, double y2, const Style& style) {
  return "<line x1='" + number(x1) + "' y1='" + number(y1) + "' x2='" + number(x2) + "' y2='" + number(y2) +
         "' stroke='" + style.ink + "' stroke-width='" + number(style.weight) + "'" +
         (style.dash.empty() ? "" : " stroke-dasharray='" + style.dash + "'") + "/>";
}

/// Both marks of a corner, for a rectangle `out` mm outside of the trim.
std::string corner(bool right, bool low, const Style& style, double out = 0) {
  const double x = right ? width + out : -out, y = low ? height + out : -out;
  const double h = right ? 1 : -1, v = low ? 1 : -1;
  const double near = style.offset - out, far = near + style.length;
  return line(x, y + v * near, x, y + v * far, style) + line(x + h * near, y, x + h * far, y, style);
}

std::string corners(const Style& style, double out = 0) {
  return corner(false, false, style, out) + corner(true, false, style, out) +
         corner(false, true, style, out) + corner(true, true, style, out);
}

std::string turned(const std::string& drawing, double degrees) {
  return "<g transform='rotate(" + number(degrees) + " 60 40)'>" + drawing + "</g>";
}

Job job_of(double w = width, double h = height) {
  Job job;
  job.trim = {Length::from_mm(w), Length::from_mm(h)};
  job.bleed = Edges::all(Length::from_mm(3));
  return job;
}

std::optional<TrimMarks> marks_on(const std::string& drawing, const Job& job = job_of(), double dpi = 300) {
  const Raster raster = planted::render(drawing, dpi, sheet);
  return find_marks(view_of(raster), dpi, job);
}

/// Within a third of a pixel of 300 dpi, and the skew as far as that moves a corner.
void expect_trim(const std::optional<TrimMarks>& found, const std::string& what, double skew = 0,
                 double dpi = 300) {
  ASSERT_TRUE(found) << what;
  const double scale = dpi / 25.4, third = std::max(1.0, dpi / 300.0) / 3.0;
  EXPECT_NEAR(found->trim_px.x, -sheet.x * scale, third) << what;
  EXPECT_NEAR(found->trim_px.y, -sheet.y * scale, third) << what;
  EXPECT_NEAR(found->trim_px.right(), (width - sheet.x) * scale, third) << what;
  EXPECT_NEAR(found->trim_px.bottom(), (height - sheet.y) * scale, third) << what;
  EXPECT_NEAR(found->skew, skew, 0.02) << what;
}

TEST(Marks, OfEveryWeightInkAndDash) {
  for (const double weight : {0.1, 0.25, 0.5})
    for (const char* ink : {"black", "#00aeef", "#ec008c", "#c8b400", "#0a5a28"})
      expect_trim(marks_on(corners({weight, 3, 6, ink})), std::string(ink) + " " + number(weight));
  for (const char* dash : {"1 0.5", "2 1", "0.6 0.6"})
    expect_trim(marks_on(corners({0.3, 3, 6.2, "black", dash})), dash);
}

TEST(Marks, AtOtherResolutions) {
  for (const double dpi : {150.0, 400.0, 600.0})
    expect_trim(marks_on(corners({}), job_of(), dpi), number(dpi) + " dpi", 0, dpi);
}

TEST(Marks, OnACrookedSheet) {
  for (const double skew : {-1.2, -0.5, 0.05, 0.3, 1.0})
    expect_trim(marks_on(turned(corners({}), skew)), number(skew) + " degrees", skew);
}

TEST(Marks, OnTintBesideAPictureThatRunsUpToThem) {
  const std::string tint = rect(-30, -30, 200, 150, "#e6eef2");
  const std::string picture = planted::image(-3, -3, 126, 86, planted::photograph_png(500, 340, 3));
  const Style style{0.2, 3, 6, "black"};
  expect_trim(marks_on(tint + picture + corners(style)), "picture up to the marks");
  expect_trim(marks_on(tint + corners({0.2, 2, 6, "black"}) + picture), "marks that begin under the picture");
  const std::string larger = planted::image(-6, -6, 132, 92, planted::photograph_png(520, 360, 3));
  expect_trim(marks_on(larger + corners({0.3, 2, 7, "black"})), "marks that begin on the picture");
}

TEST(Marks, OfTheBleedAreNotTakenForThoseOfTheTrim) {
  const Style style{0.25, 4, 6};
  expect_trim(marks_on(corners(style) + corners(style, 3)), "size of the job");
  const auto found = marks_on(corners(style) + corners(style, 3), job_of(100, 60));
  expect_trim(found, "another size than the job");  // the inner ones are the trim's
}

TEST(Marks, AtSomeCornersOnly) {
  const Style style;
  expect_trim(marks_on(corner(false, false, style) + corner(true, true, style)), "falling diagonal");
  expect_trim(marks_on(corner(true, false, style) + corner(false, true, style)), "rising diagonal");
  expect_trim(marks_on(corner(true, false, style) + corner(false, true, style) + corner(true, true, style),
                       job_of(100, 60)),
              "three, another size than the job");
  const auto two = marks_on(corner(false, false, style) + corner(true, false, style));
  expect_trim(two, "two along the top");
  EXPECT_FALSE(two->whole);
  EXPECT_FALSE(marks_on(corner(false, false, style) + corner(true, true, style), job_of(100, 60)));
  EXPECT_FALSE(marks_on(corner(false, false, style)));
}

// Marks as short as these say a slope to 0.05 degrees at best; the size of the job says it far better.
TEST(Marks, ShortOnesAtOppositeCornersOfACrookedSheet) {
  const Style style{0.41, 1, 4, "#ec008c"};
  for (const bool rising : {false, true})
    for (const double skew : {-0.9, -0.3, 0.05, 0.5}) {
      const auto found = marks_on(turned(corner(rising, false, style) + corner(!rising, true, style), skew));
      expect_trim(found, number(skew), skew);
      EXPECT_NEAR(found->skew, skew, 0.008) << skew;
    }
}

// Renderers that snap lines to whole pixels draw 0.11 mm as one pixel here and two there.
TEST(Marks, OfOneAndTwoPixels) {
  const double pixel = 25.4 / 300;
  std::string marks;
  for (const double x : {0.0, width})
    for (const double y : {0.0, height}) {
      const double right = x > 0 ? 1 : -1, down = y > 0 ? 1 : -1;
      marks += line(x, y + down * 4, x, y + down * 10, {pixel}) +
               line(x + right * 4, y, x + right * 10, y, {y > 0 ? pixel : 2 * pixel});
    }
  const auto found = marks_on("<g shape-rendering='crispEdges'>" + marks + "</g>");
  ASSERT_TRUE(found);
  EXPECT_EQ(found->strokes, 8);
}

TEST(Marks, TurnedOtherwiseThanTheirCornersAreNone) {
  const Style style;
  std::string marks;
  for (const bool right : {false, true})
    for (const bool low : {false, true})
      marks += "<g transform='rotate(1.5 " + number(right * width) + " " + number(low * height) + ")'>" +
               corner(right, low, style) + "</g>";
  EXPECT_FALSE(marks_on(marks));
}

TEST(Marks, RoundATableOfManyCells) {
  const Style style{0.48, 3, 8.3, "#00aeef"}, ruled{0.4, 0, 0};
  std::string table;
  for (int i = 0; i <= 12; ++i) table += line(6 + i * 9, 6, 6 + i * 9, 74, ruled);
  for (int i = 0; i <= 10; ++i) table += line(6, 6 + i * 6.8, 114, 6 + i * 6.8, ruled);
  expect_trim(marks_on(corners(style) + table), "cells of 9 x 6.8 mm");
}

TEST(Marks, WithSlugTextAcrossThem) {
  const Style dashed{0.21, 2.5, 7.4, "#f2d900", "1.5 0.7"};
  const std::string two = corner(true, false, dashed) + corner(false, true, dashed);
  expect_trim(marks_on(two + planted::text(94, -4.6, 8, "yard harbour C M Y K")), "two corners");
  const Style solid;
  expect_trim(marks_on(corners(solid) + rect(-1, -6.5, 4, 8, "black")), "one half hidden");
}

TEST(Marks, CentreMarksAndSlugTextDoNotMislead) {
  const Style style;
  const std::string centre = line(60, -9, 60, -3, style) + line(60, 83, 60, 89, style) +
                             line(-9, 40, -3, 40, style) + line(123, 40, 129, 40, style);
  const std::string slug = planted::text(4, -5, 8, "Sheet lll III 1 of 4 | H H H") +
                           rect(20, 86, 5, 5, "#ffe000") + rect(25, 86, 5, 5, "black");
  const auto found = marks_on(corners(style) + centre + slug);
  expect_trim(found, "centre marks, slug text, colour bar");
  ASSERT_EQ(found->folds.size(), 1U);  // the centre
  EXPECT_NEAR(found->folds[0].mm(), 60, 0.03);
}

TEST(Marks, FoldMarksStandInPairsOnOppositeSides) {
  const Style dashed{0.2, 3, 6, "black", "1 0.6"};
  const std::string folds = line(39.5, -9.4, 39.5, -3, dashed) + line(39.5, 83, 39.5, 89.4, dashed) +
                            line(80, -9.4, 80, -3, dashed) + line(80, 83, 80, 89.4, dashed) +
                            line(20, -9, 20, -3, dashed);  // alone: no fold
  for (const double skew : {0.0, 0.8}) {
    const auto found = marks_on(turned(corners({}) + folds, skew));
    expect_trim(found, "folds", skew);
    ASSERT_EQ(found->folds.size(), 2U);
    EXPECT_NEAR(found->folds[0].mm(), 39.5, 0.05);
    EXPECT_NEAR(found->folds[1].mm(), 80, 0.05);
    EXPECT_TRUE(found->folds_y.empty());
  }
}

/// Four rules along the sides of the trim that cross at its corners and go on.
std::string crossing_rules(const char* ink) {
  std::string hash;
  const Style style{0.36, 0, 0, ink};
  for (const double x : {0.0, width}) hash += line(x, -5.5, x, height + 5.5, style);
  for (const double y : {0.0, height}) hash += line(-5.5, y, width + 5.5, y, style);
  return hash;
}

std::string frame(double weight, const std::string& ink) {
  return "<rect x='0' y='0' width='120' height='80' fill='none' stroke='" + ink + "' stroke-width='" +
         number(weight) + "'/>";
}

// What is drawn over a line in part hides its ink, not that it goes on.
TEST(Marks, RulesUnderAFrameOfAnotherInkAreNone) {
  const std::string rules = crossing_rules("#4d4d4d");
  for (const char* ink : {"#c9e385", "#00aeef", "#f4f4f0"})
    EXPECT_FALSE(marks_on(rules + frame(0.5, ink))) << ink;
  const std::string picture = planted::image(-3, -3, 126, 86, planted::photograph_png(500, 340, 3));
  EXPECT_FALSE(marks_on(picture + rules + frame(0.5, "#c9e385"))) << "on a picture";
}

TEST(Marks, DashesOfCuttingLinesAreNone) {
  const Style dashed{0.3, 0, 0, "black", "5 2.5"};
  std::string lines;
  for (const double x : {0.0, width})  // begun so that gaps lie in the corners
    lines += line(x, 39, x, -14, dashed) + line(x, 41, x, height + 14, dashed);
  for (const double y : {0.0, height})
    lines += line(59, y, -14, y, dashed) + line(61, y, width + 14, y, dashed);
  EXPECT_FALSE(marks_on(lines));
}

TEST(Marks, CrossesThatAreOpenInTheMiddleAreNone) {
  const Style open{0.3, 1, 5};
  std::string crosses;
  for (const double x : {0.0, width})
    for (const double y : {0.0, height})
      for (const double way : {-1.0, 1.0})
        crosses += line(x + way, y, x + way * 6, y, open) + line(x, y + way, x, y + way * 6, open);
  EXPECT_FALSE(marks_on(crosses));
}

/// Like strokes outside of all sides, `step` mm apart, `more` of them past each corner.
std::string scale(double step, int more) {
  const Style tick;
  std::string ticks;
  for (double x = -step * more; x <= width + step * more + 0.01; x += step)
    ticks += line(x, -4.5, x, -1.5, tick) + line(x, height + 1.5, x, height + 4.5, tick);
  for (double y = -step * more; y <= height + step * more + 0.01; y += step)
    ticks += line(-4.5, y, -1.5, y, tick) + line(width + 1.5, y, width + 4.5, y, tick);
  return ticks;
}

TEST(Marks, ScalesRoundAMapAreNone) {
  EXPECT_FALSE(marks_on(scale(10, 1))) << "farther out than marks of a bleed";
  EXPECT_FALSE(marks_on(scale(5, 1))) << "as near as marks of a bleed, at even distances";
}

TEST(Marks, BesideAFrameAlongTheTrim) {
  expect_trim(marks_on(corners({}) + frame(0.3, "black")), "of the same ink");
  expect_trim(marks_on(corners({}) + frame(0.3, "#00aeef")), "of another");
}

TEST(Marks, InWhiteOnADarkSlug) {
  const Style white{0.25, 3, 6, "white"};
  expect_trim(marks_on(rect(-30, -30, 200, 150, "#20303c") + corners(white)), "dark");
  expect_trim(marks_on(rect(-30, -30, 200, 150, "#b0202c") + rect(-3, -3, 126, 86, "white") + corners(white)),
              "red, round a white page");
}

TEST(Marks, WhatIsNoMarkIsNotTakenForOne) {
  const Style style;
  const auto cross = [&](double x, double y) {
    return line(x - 4, y, x + 4, y, style) + line(x, y - 4, x, y + 4, style);
  };
  const auto bracket = [&](double x, double y, double h, double v) {
    return line(x, y, x + 8 * h, y, style) + line(x, y, x, y + 8 * v, style);
  };
  std::string crosses, lattice, hash, dashes;
  for (const double x : {0.0, width})
    for (const double y : {0.0, height}) crosses += cross(x, y);
  for (int i = -1; i < 5; ++i)
    for (int j = -1; j < 5; ++j) lattice += cross(i * 40, j * 26.667);
  for (const double x : {0.0, width}) hash += line(x, -8, x, height + 8, style);
  for (const double y : {0.0, height}) hash += line(-8, y, width + 8, y, style);
  const Style dashed{0.25, 3, 6, "black", "3 1.5"};
  for (const double x : {0.0, width}) dashes += line(x, -8, x, height + 8, dashed);
  for (const double y : {0.0, height}) dashes += line(-8, y, width + 8, y, dashed);
  for (const auto& [what, drawing] :
       {std::pair<std::string, std::string>{"nothing", ""},
        {"crosses at the corners", crosses},
        {"a lattice of crosses", lattice},
        {"rules that cross and go on", hash},
        {"the same, dashed", dashes},
        {"rules lighter than the ground between them",
         rect(-3, -3, 126, 86, "#378263") + crossing_rules("#819f78")},
        {"a frame on the trim", frame(0.3, "black")},
        {"brackets", bracket(0, 0, 1, 1) + bracket(width, 0, -1, 1) + bracket(0, height, 1, -1) +
                         bracket(width, height, -1, -1)}})
    EXPECT_FALSE(marks_on(drawing)) << what;
}

}  // namespace
}  // namespace frisket
