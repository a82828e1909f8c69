// bleed: fields and pictures that stop short of it, with exact truth.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "planted_page.hpp"

namespace frisket {
namespace {

using namespace planted;

constexpr double trim_w = 279.4, trim_h = 215.9, bleed = 3.175;  // mm, of letter_fold_job()

TEST(Bleed, FieldThatStopsAtTheTrim) {
  const Report report = inspect_page(render(rect(0, 40, 60, 90, "#c05020")), letter_fold_job());
  ASSERT_EQ(fault_count(report), 1U) << told(report);
  const Finding finding = faults(report, "bleed").at(0);
  EXPECT_EQ(finding.kind, "short-bleed");
  EXPECT_EQ(finding.severity, Severity::fix);
  EXPECT_EQ(finding.edge, Edge::left);
  EXPECT_NEAR(finding.measured->mm(), 0.0, 0.1);
  EXPECT_NEAR(finding.required->mm(), bleed, 1e-9);
  EXPECT_NEAR(finding.box.height.mm(), 90, 0.3);
  expect_box(finding.box, -bleed, 40, 0, 130, report);
  expect_box(finding.whole, 0, 40, 60, 130, report);
}

TEST(Bleed, PhotographWithHalfItsBleedOnOneEdge) {
  const Report report =
      inspect_page(render(image(-1.5, -3.175, trim_w + 1.5 + 3.175, 222.25, photograph_png(3355, 2625, 11))),
                   letter_fold_job());
  ASSERT_EQ(fault_count(report), 1U) << told(report);
  const Finding finding = faults(report, "bleed").at(0);
  EXPECT_EQ(finding.severity, Severity::fix);
  EXPECT_EQ(finding.edge, Edge::left);
  EXPECT_NEAR(finding.measured->mm(), 1.5, 0.1);
  expect_box(finding.whole, -1.5, -3.175, trim_w + 3.175, trim_h + 3.175, report);
}

TEST(Bleed, FieldThatStopsInsideTheTrimLeavesASliver) {
  const Report report = inspect_page(
      render(rect(30, -4, 50, 60, "#404a80") + rect(100, 100, 178.9, 60, "#404a80")), letter_fold_job());
  ASSERT_EQ(fault_count(report), 1U) << told(report);
  const Finding finding = faults(report, "bleed").at(0);
  EXPECT_EQ(finding.kind, "sliver");
  EXPECT_EQ(finding.severity, Severity::fix);
  EXPECT_EQ(finding.edge, Edge::right);
  EXPECT_NEAR(finding.measured->mm(), -0.5, 0.1);
}

TEST(Bleed, CanvasWithoutBleed) {
  const Canvas trim_only{0, 0, trim_w, trim_h};
  const std::string drawing = rect(-1, 20, 80, 60, "#a03030") + rect(120, -1, 60, 50, "#3050a0");
  const Report report = inspect_page(render(drawing, 300, trim_only), letter_fold_job());
  const auto found = faults(report, "bleed");
  ASSERT_EQ(found.size(), 2U) << told(report);
  for (const Finding& finding : found) {
    EXPECT_EQ(finding.severity, Severity::fix);
    EXPECT_NEAR(finding.measured->mm(), 0.0, 0.1);
  }
  EXPECT_THAT(report.findings, testing::Contains(testing::Field(&Finding::kind, "no-bleed")));
  EXPECT_EQ(fault_count(report), 2U) << told(report);
}

TEST(Bleed, ThatLacksLittleIsForReview) {
  const Report report = inspect_page(render(rect(-2.95, -4, 290, 230, "#385a7c")), letter_fold_job());
  ASSERT_EQ(fault_count(report), 1U) << told(report);
  const Finding finding = faults(report, "bleed").at(0);
  EXPECT_EQ(finding.severity, Severity::review);
  EXPECT_NEAR(finding.measured->mm(), 2.95, 0.1);
}

TEST(Bleed, OfStripesAcrossThePageIsFine) {
  std::string stripes;
  for (int i = -20; i < 60; ++i)
    stripes += "<path d='M " + number(12.0 * i) + " -4 l 240 230 h 6 l -240 -230 z' fill='#b04030'/>";
  const Report report = inspect_page(render(stripes), letter_fold_job());
  EXPECT_TRUE(faults(report, "bleed").empty()) << told(report);
}

TEST(Bleed, FieldThatALineCutsInTwoIsToldOnce) {
  // Stops 1 mm beyond the top trim; a line down the fold divides it.
  const std::string field = rect(-4, -1, 290, 230, "#2f6f6a") + rect(93.5, -4, 0.3, 230, "#101010");
  const Report report = inspect_page(render(field), letter_fold_job());
  const auto bleeds = faults(report, "bleed");
  ASSERT_EQ(bleeds.size(), 1U) << told(report);
  EXPECT_NEAR(bleeds[0].measured->mm(), 1.0, 0.1);
  EXPECT_NEAR(bleeds[0].box.width.mm(), 285.75, 0.3);
}

TEST(Bleed, LetterWithAStraightSideNearTheTrimIsNoSliver) {
  const Report report =
      inspect_page(render(text_with_top(110, 1.0, 90, "THE", "fill='#202020'")), letter_fold_job());
  EXPECT_TRUE(faults(report, "bleed").empty()) << told(report);
  EXPECT_EQ(faults(report, "safe-zone").size(), 1U) << told(report);
}

TEST(Bleed, StripedGroundThatStopsShortIsOneFinding) {
  std::string stripes;
  for (int i = 0; i < 30; ++i) stripes += rect(-4 + 10.0 * i, -4, 5, 221, "#3a7ca5");
  const Report report = inspect_page(render(rect(-4, -4, 290, 221, "#d9dcd6") + stripes), letter_fold_job());
  // The bottom trim lies at 215.9 mm; the ground stops at 217.
  const auto bleeds = faults(report, "bleed");
  ASSERT_EQ(bleeds.size(), 1U) << told(report);
  EXPECT_EQ(bleeds[0].edge, Edge::bottom);
  EXPECT_NEAR(bleeds[0].measured->mm(), 1.1, 0.1);
  EXPECT_EQ(fault_count(report), 1U) << told(report);
}

TEST(Bleed, BordersWithinAPictureThatBleedsAreItsOwn) {
  // Two flat panes meet in the bleed; alone on the page the outer one would be another colour there.
  const std::string panes = rect(-4, 60, 3, 90, "#5a4632") + rect(-1, 60, 40, 90, "#a08560");
  const std::string picture = image(-4, -4, 290, 226, photograph_png(3425, 2670, 5));
  const Report inside = inspect_page(render(picture + panes), letter_fold_job());
  EXPECT_TRUE(faults(inside, "bleed").empty()) << told(inside);
  const Report alone = inspect_page(render(panes), letter_fold_job());
  ASSERT_EQ(faults(alone, "bleed").size(), 1U) << told(alone);
  EXPECT_EQ(faults(alone, "bleed")[0].kind, "colour-differs-in-bleed");
}

TEST(Bleed, RowOfRoundingRoundACornerOfTheCanvasIsNoColour) {
  // As renderers leave it where the place of a gradient on the canvas is rounded.
  const double px = 25.4 / 300;
  std::string page = rect(-4, -4, 290, 224, "#2a7d62");
  for (const auto& [deep, share] : {std::pair{2 * px, "0.1"}, {px, "1"}})
    page += "<g opacity='" + std::string(share) + "'>" + rect(-bleed, -bleed, 290, deep, "#88b8a9") +
            rect(-bleed, -bleed, deep, 224, "#88b8a9") + "</g>";
  const Report report = inspect_page(render(page), letter_fold_job());
  EXPECT_EQ(fault_count(report), 0U) << told(report);
}

TEST(Bleed, PaperBesideATintAsFaintAsPaperOfAnotherMake) {
  const std::string ground = rect(-1.5, -4, trim_w + 8, trim_h + 8, "#f8f5ef");
  const Report report = inspect_page(as_jpeg(render(ground), 80), letter_fold_job());
  ASSERT_EQ(fault_count(report), 1U) << told(report);
  const Finding finding = faults(report, "bleed").at(0);
  EXPECT_EQ(finding.kind, "short-bleed");
  EXPECT_EQ(finding.edge, Edge::left);
  EXPECT_NEAR(finding.measured->mm(), 1.5, 0.17);
}

}  // namespace
}  // namespace frisket
