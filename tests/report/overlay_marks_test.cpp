#include "report/overlay_marks.hpp"

#include <gtest/gtest.h>

#include "report/sample_report.hpp"

namespace frisket {
namespace {

bool overlap(const PixelRect& a, const PixelRect& b) {
  return a.x < b.right() && b.x < a.right() && a.y < b.bottom() && b.y < a.bottom();
}

void expect_apart_and_on_page(const Report& report, double scale) {
  const OverlayPage page = overlay_page(report, scale);
  const std::vector<Mark> marks = lay_out_marks(report, scale);
  for (std::size_t i = 0; i < marks.size(); ++i) {
    ASSERT_TRUE(marks[i].tag) << "no tag for " << i + 1;
    EXPECT_GE(marks[i].tag->x, 0);
    EXPECT_GE(marks[i].tag->y, 0);
    EXPECT_LE(marks[i].tag->right(), page.width);
    EXPECT_LE(marks[i].tag->bottom(), page.height);
    for (std::size_t j = 0; j < i; ++j)
      EXPECT_FALSE(overlap(*marks[i].tag, *marks[j].tag)) << i + 1 << " on " << j + 1;
  }
}

TEST(OverlayMarks, TagsStandApartOnThePageHoweverMany) {
  for (const int count : {1, 3, 12, 40, 150}) {
    Report report = clear_report(leaflet_job(), 300);
    add_findings(report, scattered_findings(report, count, 11));
    expect_apart_and_on_page(report, 1600.0 / 3375);
  }
  Report card = clear_report(
      flat_job({Length::from_mm(85), Length::from_mm(55)}, Length::from_mm(3), Length::from_mm(4)), 300);
  add_findings(card, scattered_findings(card, 40, 11));
  expect_apart_and_on_page(card, 1);
}

TEST(OverlayMarks, TwentyFindingsInOnePlaceAreStillToldApart) {
  Report report = clear_report(leaflet_job(), 300);
  add_findings(report, std::vector<Finding>(20, headline_finding()));
  expect_apart_and_on_page(report, 1600.0 / 3375);
}

TEST(OverlayMarks, APageWithoutRoomLeavesTagsOut) {
  Report report =
      clear_report(flat_job({Length::from_mm(5), Length::from_mm(3)}, {}, Length::from_mm(1)), 300);
  add_findings(report, scattered_findings(report, 9, 1));
  for (const Mark& mark : lay_out_marks(report, 1)) EXPECT_FALSE(mark.tag);
}

/// Trim at 37.5 px of a 300 dpi canvas; at scale 0.5 a millimetre is 5.9055 overlay pixels.
Mark only_mark(const Finding& finding) {
  Report report = clear_report(leaflet_job(), 300, Side::outside);
  add_findings(report, {finding});
  return lay_out_marks(report, 0.5).front();
}
constexpr double px_per_mm = 300 / 25.4 / 2;
constexpr double trim_at = 37.5 / 2;

TEST(OverlayMarks, DimensionRunsFromTheTrimToTheInk) {
  const Mark mark = only_mark(headline_finding(1.9));
  ASSERT_TRUE(mark.dimension);
  EXPECT_FALSE(mark.dimension->along_x);
  EXPECT_NEAR(mark.dimension->reference, trim_at, 0.01);
  EXPECT_NEAR(mark.dimension->ink, trim_at + 1.9 * px_per_mm, 0.01);
  EXPECT_GT(mark.dimension->across, mark.box->right());
  EXPECT_EQ(mark.label, "0.07 in");
}

TEST(OverlayMarks, DimensionAtTheFarEdgesRunsInwards) {
  Finding finding = headline_finding(2.0);
  finding.edge = Edge::right;
  finding.box = rect_mm(279.4 - 6.35, 100, 4.35, 10);
  const Mark mark = only_mark(finding);
  EXPECT_TRUE(mark.dimension->along_x);
  EXPECT_NEAR(mark.dimension->reference, trim_at + 279.4 * px_per_mm, 0.01);
  EXPECT_NEAR(mark.dimension->ink, trim_at + 277.4 * px_per_mm, 0.01);
}

TEST(OverlayMarks, BleedIsMeasuredOutwards) {
  Finding finding = bleed_finding();
  finding.measured = Length::from_mm(1.5);
  const Mark mark = only_mark(finding);
  EXPECT_NEAR(mark.dimension->reference, trim_at, 0.01);
  EXPECT_NEAR(mark.dimension->ink, trim_at - 1.5 * px_per_mm, 0.01);
}

TEST(OverlayMarks, ASliverIsMeasuredInwardsAndWrittenWithoutASign) {
  Finding finding = bleed_finding();
  finding.measured = Length::from_mm(-0.5);
  const Mark mark = only_mark(finding);
  EXPECT_NEAR(mark.dimension->ink, trim_at + 0.5 * px_per_mm, 0.01);
  EXPECT_EQ(mark.label, "0.02 in");
}

TEST(OverlayMarks, NoDistanceIsSaidInWords) {
  EXPECT_EQ(only_mark(bleed_finding()).label, "at the trim");
  Finding crossing = fold_finding();
  crossing.measured = Length::from_mm(0.0005);
  EXPECT_EQ(only_mark(crossing).label, "on the fold");
}

TEST(OverlayMarks, FoldsAreMeasuredTowardsTheInk) {
  const Mark mark = only_mark(fold_finding());
  EXPECT_NEAR(mark.dimension->reference, trim_at + 92.075 * px_per_mm, 0.01);
  EXPECT_NEAR(mark.dimension->ink, trim_at + 93.275 * px_per_mm, 0.01);
  EXPECT_GT(mark.box->width, 0) << "a hairline must be seen";
}

TEST(OverlayMarks, AFoldThatTheSideDoesNotHaveGetsNoDimension) {
  Finding finding = fold_finding();
  finding.fold = 7;
  EXPECT_FALSE(only_mark(finding).dimension);
}

TEST(OverlayMarks, ADistanceThatIsNoNumberGetsNoDimensionButATag) {
  Finding finding = headline_finding();
  for (const double no_number : {HUGE_VAL, -HUGE_VAL, std::nan("")}) {
    finding.measured = Length::from_mm(no_number);
    const Mark mark = only_mark(finding);
    EXPECT_FALSE(mark.dimension);
    EXPECT_TRUE(mark.tag);
    finding.box.x = finding.measured.value();
    EXPECT_FALSE(only_mark(finding).box);
    finding.box = headline_finding().box;
  }
}

}  // namespace
}  // namespace frisket
