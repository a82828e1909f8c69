// Patterns: the tiles of a board are one, what lies strewn over a ground is none.
#include "page/elements/patterns.hpp"

#include <gtest/gtest.h>

#include <array>

namespace frisket {
namespace {

const Scale scale{300 / 25.4, false};
const cv::Vec3b green(96, 140, 96), sand(226, 214, 190);

/// A page of sand with figures put on it by `put`, and with a comb of their colour whose teeth the canvas
/// cuts.
template <class Put>
cv::Mat3b page_of_figures(Put&& put) {
  cv::Mat3b page(2200, 2800, sand);
  page(cv::Rect(12, 100, 12, 1400)) = green;
  for (int y = 100; y < 1500; y += 350) page(cv::Rect(0, y, 12, 60)) = green;
  put(page);
  return page;
}

TEST(Tiles, OfABoardAreAPattern) {
  const cv::Mat3b page = page_of_figures([](cv::Mat3b& on) {
    for (int y = 60; y < 2100; y += 60)
      for (int x = 60 + y % 120; x < 2700; x += 120) on(cv::Rect(x, y, 60, 60)) = green;
  });
  const std::vector<Pattern> found = tiles(page, find_surfaces(page, scale));
  ASSERT_FALSE(found.empty());
  EXPECT_GE(found.front().figures.size(), 100u);
}

TEST(Tiles, ThatLieStrewnAreNone) {
  const cv::Mat3b page = page_of_figures([](cv::Mat3b& on) {
    for (int i = 0; i < 14; ++i)
      on(cv::Rect(70 + 271 * i % 2600, 80 + 397 * i % 2000, 76 + 4 * (i % 8), 104 - 4 * (i % 8))) =
          green + cv::Vec3b::all(static_cast<std::uint8_t>(i % 3));
  });
  EXPECT_TRUE(tiles(page, find_surfaces(page, scale)).empty());
}

TEST(Tiles, AreNotTheMeshesOfADrawingOnTheirGround) {
  const cv::Mat3b page = page_of_figures([](cv::Mat3b& on) {
    for (int i = 0; i < 20; ++i) {
      const cv::Rect mesh(300 + i % 5 * 520, 300 + i / 5 * 430, 60, 60);
      cv::rectangle(on, mesh + cv::Size(8, 8) - cv::Point(4, 4), cv::Scalar(250, 250, 250), cv::FILLED);
      on(mesh) = green;
    }
  });
  EXPECT_TRUE(tiles(page, find_surfaces(page, scale)).empty());
}

TEST(Boards, AreKnownByCornersOfFiguresThatTheCanvasCutsOffAt150Dpi) {
  // Squares on their points, drawn at eight times the size: three pixels of a corner are left on the canvas.
  constexpr int larger = 8, half = 10 * larger, pitch = 38 * larger, left_over = 3 * larger;
  cv::Mat3b large(900 * larger, 600 * larger, sand);
  for (int row = 0; row < 23; ++row)
    for (int column = 0; column < 16; ++column) {
      const cv::Point at(column * pitch - half + left_over, row * pitch + pitch / 2);
      const std::vector<cv::Point> square{at - cv::Point(half, 0), at - cv::Point(0, half),
                                          at + cv::Point(half, 0), at + cv::Point(0, half)};
      cv::fillConvexPoly(large, square, cv::Scalar(green));
    }
  cv::Mat3b page;
  cv::resize(large, page, {600, 900}, 0, 0, cv::INTER_AREA);
  const SurfaceMap surfaces = find_surfaces(page, {150 / 25.4, false});
  for (int y = 19; y < 860; y += 38) EXPECT_NE(surfaces.label(cv::Point(0, y)), 0) << y;
}

TEST(Figures, ThatTheEndOfThePatternCutsBelongToIt) {
  cv::Mat3b page(1400, 1800, sand);
  page(cv::Rect(1078, 0, 722, 1400)) = cv::Vec3b::all(255);
  for (int y = 30; y < 1390; y += 65) {
    for (int x = 30; x < 1060; x += 65) page(cv::Rect(x, y, 16, 16)) = green;
    page(cv::Rect(1070, y, 8, 16)) = green;
  }
  SurfaceMap surfaces = find_surfaces(page, scale);
  SharpZones sharp(page, scale);
  ElementTree tree = find_elements(page, surfaces, scale, sharp);
  mark_repeating_elements(tree);
  for (const Element& e : tree.elements) EXPECT_TRUE(e.repeats) << e.box_px.x << " " << e.box_px.y;
}

TEST(Figures, CrumbsOfThemBesideARuleAreGround) {
  cv::Mat3b page(1400, 1800, sand);
  for (int y = -2; y < 1400; y += 30)
    for (int x = -2; x < 1800; x += 30) page(cv::Rect(x, y, 6, 6) & cv::Rect(0, 0, 1800, 1400)) = green;
  page(cv::Rect(300, 596, 900, 6)) = cv::Vec3b(20, 30, 60);  // all but two rows of the figures there
  const SurfaceMap surfaces = find_surfaces(page, scale);
  const int ground = surfaces.label(cv::Point(310, 610));
  ASSERT_NE(ground, 0);
  EXPECT_EQ(surfaces.label(cv::Point(600, 603)), ground);
  EXPECT_EQ(surfaces.label(cv::Point(600, 599)), 0);
}

TEST(Figures, SmallerThanTheDotsOfATableAreAPatternWhereTheyReachTheCanvas) {
  cv::Mat3b page(1400, 1800, sand);
  page(cv::Rect(1000, 0, 800, 1400)) = cv::Vec3b::all(255);
  for (int y = 12; y < 1390; y += 36)
    for (int x = 10; x < 960; x += 36) page(cv::Rect(x, y, 7, 7)) = green;
  SurfaceMap surfaces = find_surfaces(page, scale);
  SharpZones sharp(page, scale);
  ElementTree tree = find_elements(page, surfaces, scale, sharp);
  mark_repeating_elements(tree);
  for (const Element& e : tree.elements) EXPECT_TRUE(e.repeats) << e.box_px.x << " " << e.box_px.y;
}

TEST(Figures, OfALeaderOfDotsAreNone) {
  cv::Mat3b page(1400, 1800, cv::Vec3b::all(255));
  for (int y = 40; y < 1390; y += 50)
    for (int x = 10; x < 1500; x += 14) page(cv::Rect(x, y, 4, 4)) = cv::Vec3b::all(20);
  SurfaceMap surfaces = find_surfaces(page, scale);
  SharpZones sharp(page, scale);
  ElementTree tree = find_elements(page, surfaces, scale, sharp);
  EXPECT_TRUE(mark_repeating_elements(tree).empty());
}

TEST(Stripes, TakeTurnsWithEachOtherNotWithTheFrameThatLiesOnAllOfThem) {
  const cv::Vec3b grey(150, 150, 160), ink(12, 79, 58);
  cv::Mat3b page(700, 3000, sand);
  for (int x = 20; x < 3000; x += 64) page(cv::Rect(x, 0, 32, 700)) = grey;
  cv::rectangle(page, {80, 80}, {2920, 620}, cv::Scalar(ink), 12);
  const SurfaceMap map = find_surfaces(page, scale);
  const int ground = map.label(cv::Point(10, 10));
  for (int x = 20; x < 3000; x += 64) EXPECT_EQ(map.label(cv::Point(x + 16, 20)), ground) << x;
  EXPECT_NE(map.label(cv::Point(1500, 80)), ground);
}

TEST(Stripes, WithTheirCornersCutOffAreOneGround) {
  // Drawn at eight times the size: the borders of the stripes are anti-aliased.
  cv::Mat3b large(4800, 5600, sand);
  for (int x = -5600; x < 5600; x += 260) {
    const std::array<cv::Point, 4> stripe{cv::Point(x, 4800), {x + 110, 4800}, {x + 2910, 0}, {x + 2800, 0}};
    cv::fillConvexPoly(large, stripe, cv::Scalar(green));
  }
  cv::rectangle(large, {0, 0, 2804, 2004}, cv::Scalar(140, 120, 200), cv::FILLED);
  cv::Mat page;
  cv::resize(large, page, {}, 0.125, 0.125, cv::INTER_AREA);
  const Scale coarse{200 / 25.4, false};
  const SurfaceMap map = find_surfaces(page, coarse);
  SharpZones sharp(page, coarse);
  EXPECT_TRUE(find_elements(page, map, coarse, sharp).elements.empty());
}

}  // namespace
}  // namespace frisket
