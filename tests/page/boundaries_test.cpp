// Boundaries between surfaces, followed along a strip, against where they were drawn by librsvg.
#include "page/grounds/boundaries.hpp"

#include <gtest/gtest.h>

#include "page/elements/patterns.hpp"
#include "planted_page.hpp"

namespace frisket {
namespace {

const Scale scale{300 / 25.4, false};
// 2.5 x 1.5 in: whole pixels at 96 and at 300 dpi, so that librsvg neither scales nor centres the drawing.
constexpr planted::Canvas card{0, 0, 63.5, 38.1};

std::vector<BoundaryRun> along(Edge edge, const Raster& raster) {
  const Scale own{scale.px_per_mm, raster.lossy};
  const cv::Mat rgb = view_of(raster);
  SurfaceMap map = find_surfaces(rgb, own);
  mark_repeating_fields(map);
  return follow_boundaries(rgb, map, strip_along(edge, rgb.size(), 80), std::nullopt, 47, own);
}

std::vector<BoundaryRun> along(Edge edge, const std::string& drawing) {
  return along(edge, planted::render(drawing, 300, card));
}

TEST(Boundaries, AreFoundToAFractionOfAPixel) {
  for (const double inset : {1.0, 1.5, 2.03, 3.3}) {
    const auto runs = along(Edge::left, planted::rect(inset, 4, 40, 30, "#336699"));
    ASSERT_EQ(runs.size(), 1U) << inset;
    EXPECT_NEAR(runs[0].position, scale.px(inset), 0.1) << inset;
    EXPECT_NEAR(runs[0].length(), scale.px(30), 2.0) << inset;
  }
}

TEST(Boundaries, AreFoundOnEveryEdge) {
  const std::string field = planted::rect(2, 2, 59.5, 34.1, "#a03020");
  for (const Edge edge : all_edges) {
    const auto runs = along(edge, field);
    ASSERT_EQ(runs.size(), 1U) << edge_name(edge);
    EXPECT_NEAR(runs[0].position, scale.px(2), 0.1) << edge_name(edge);
  }
}

TEST(Boundaries, OfATaperHaveTwoEnds) {
  const auto runs = along(Edge::left, "<path d='M1 4 L3 34 H50 V4 Z' fill='#336699'/>");
  ASSERT_EQ(runs.size(), 1U);
  EXPECT_NEAR(runs[0].least, scale.px(1.1), 1.0);
  EXPECT_NEAR(runs[0].most, scale.px(2.9), 1.0);
}

TEST(Boundaries, AreNoneWhereAFieldBleeds) {
  EXPECT_TRUE(along(Edge::left, planted::rect(-1, -1, 66, 42, "#336699")).empty());
  EXPECT_TRUE(along(Edge::left, "").empty());
}

TEST(Boundaries, OfPaperAreFoundWhereTheTintBehindItIsFaintOnJpeg) {
  const std::string taper = "<path d='M1 -1 L3 40 H70 V-1 Z' fill='#efe9dd'/>";
  for (const int quality : {80, 90}) {
    const auto runs = along(Edge::left, planted::as_jpeg(planted::render(taper, 300, card), quality));
    ASSERT_EQ(runs.size(), 1U) << quality;
    EXPECT_EQ(runs[0].outer, BoundaryRun::bare_paper);
    EXPECT_NEAR(runs[0].least, scale.px(1.15), 2.0) << quality;
    EXPECT_NEAR(runs[0].most, scale.px(2.81), 2.0) << quality;
  }
}

TEST(Boundaries, OfPaperAreFoundHoweverNarrowItIs) {
  const auto runs = along(Edge::left, planted::rect(0.3, -1, 70, 42, "#336699"));
  ASSERT_EQ(runs.size(), 1U);
  EXPECT_EQ(runs[0].outer, BoundaryRun::bare_paper);
  EXPECT_NEAR(runs[0].position, scale.px(0.3), 0.1);
}

TEST(Boundaries, OfPaperRunOnAlongStripes) {
  std::string stripes = planted::rect(2, -1, 70, 42, "#e0a030");
  for (double y = -1; y < 40; y += 3) stripes += planted::rect(2, y, 70, 1.5, "#7a9a60");
  const auto runs = along(Edge::left, stripes);
  ASSERT_EQ(runs.size(), 1U);
  EXPECT_NEAR(runs[0].length(), scale.px(38.1), 3.0);
}

TEST(Boundaries, SkipLetters) {
  EXPECT_TRUE(along(Edge::left, planted::text(2, 20, 9, "Words alone are no surface")).empty());
}

}  // namespace
}  // namespace frisket
