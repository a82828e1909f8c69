// page-size: a canvas that fits nothing is named.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "planted_page.hpp"

namespace frisket {
namespace {

using namespace planted;

TEST(PageSize, A4UnderALetterTicket) {
  Job job = letter_fold_job();
  const Report report = inspect_page(render("", 300, {0, 0, 297, 210}), job);
  const auto found = faults(report, "page-size");
  ASSERT_EQ(found.size(), 1U) << told(report);
  EXPECT_EQ(found[0].kind, "size-differs");
  EXPECT_THAT(found[0].message, testing::HasSubstr("A4"));
  EXPECT_EQ(report.verdict, Verdict::fix);
  for (const CheckResult& check : report.checks)
    EXPECT_EQ(check.state == CheckResult::State::not_assessed, check.check != "page-size") << check.check;
}

TEST(PageSize, NamesWhatTheCanvasWouldBe) {
  struct Case {
    Canvas canvas;
    double dpi;
    const char* told;
  };
  for (const Case& wrong : {Case{{0, 0, 215.9, 279.4}, 300, "turned by 90 degrees"},
                            Case{{0, 0, 279.4, 215.9}, 150, "right at 150 dpi"},
                            Case{{0, 0, 251.46, 194.31}, 300, "scaled to 90 % of the trim"},
                            Case{{0, 0, 148, 210}, 300, "A5 portrait"}}) {
    const Report report = inspect_page(render("", wrong.dpi, wrong.canvas), letter_fold_job());
    ASSERT_FALSE(report.findings.empty());
    EXPECT_THAT(report.findings.front().message, testing::HasSubstr(wrong.told));
  }
}

TEST(PageSize, SaysWhereFileAndTicketDisagree) {
  Raster page = render("");
  page.file_dpi = 150;
  const Report report = inspect_page(page, letter_fold_job());
  const auto found = faults(report, "page-size");
  ASSERT_EQ(found.size(), 1U) << told(report);
  EXPECT_EQ(found[0].kind, "file-dpi-differs");
  EXPECT_EQ(found[0].severity, Severity::review);
  page.file_dpi = 302;  // within 1 %
  EXPECT_EQ(inspect_page(page, letter_fold_job()).verdict, Verdict::clear);
}

TEST(PageSize, LargerCanvasIsCentredWithANote) {
  const Report report = inspect_page(render("", 300, {-16, -16, 311.4, 247.9}), letter_fold_job());
  EXPECT_EQ(report.verdict, Verdict::note) << told(report);
  EXPECT_EQ(report.findings.at(0).kind, "larger-canvas");
}

TEST(PageSize, LargerCanvasThatIsExactlyAnotherSizeIsForAPersonToDecide) {
  Job job = letter_fold_job();
  job.dpi = 150;
  const Report report = inspect_page(render("", 150, {0, 0, 420, 297}), job);
  const auto found = faults(report, "page-size");
  ASSERT_EQ(found.size(), 1U) << told(report);
  EXPECT_EQ(found[0].kind, "larger-canvas");
  EXPECT_EQ(found[0].severity, Severity::review);
  EXPECT_THAT(found[0].message, testing::HasSubstr("It is A3 landscape."));
}

/// Crop marks round the trim of the letter fold job, `more` mm wider than it.
std::string crop_marks(double more = 0) {
  std::string marks;
  const double width = 279.4 + more, height = 215.9;
  for (const double x : {0.0, width})
    marks += rect(x - 0.1, -11, 0.2, 6, "black") + rect(x - 0.1, height + 5, 0.2, 6, "black");
  for (const double y : {0.0, height})
    marks += rect(-11, y - 0.1, 6, 0.2, "black") + rect(width + 5, y - 0.1, 6, 0.2, "black");
  return marks;
}
std::string fold_marks(double x) {
  return rect(x - 0.1, -11, 0.2, 6, "black") + rect(x - 0.1, 221, 0.2, 6, "black");
}
const Canvas sheet{-19, -16, 320, 247.9};
const double px = 300 / 25.4;

TEST(PageSize, TrimIsFoundByMarksAndNothingOfTheSlugIsMatter) {
  const std::string artwork = rect(-3.175, -3.175, 285.75, 222.25, "#2060c0");
  const std::string slug = text(10, -6, 8, "Sheet 1 of 2, harbour walks") + rect(60, 224, 5, 5, "#ffe000");
  const Report report = inspect_page(
      render(artwork + crop_marks() + fold_marks(93.6625) + fold_marks(187.325) + slug, 300, sheet),
      letter_fold_job());
  EXPECT_EQ(report.placed, Placing::by_marks);
  EXPECT_NEAR(report.trim_px.x, 19 * px, 0.34);
  EXPECT_NEAR(report.trim_px.y, 16 * px, 0.34);
  EXPECT_EQ(fault_count(report), 0U) << told(report);
  EXPECT_THAT(report.findings.at(0).message, testing::HasSubstr("found by 8 crop marks at 4 corners"));
}

TEST(PageSize, FaultsOnAMarkedAndCrookedSheetAreMeasuredFromItsMarks) {
  // A line of type 3 mm from the top, and colour that stops 1 mm past the right trim.
  const std::string artwork =
      text_with_top(60, 3, 14, "High water", "fill='black'") + rect(200, 80, 80.4, 60, "#2060c0");
  for (const double skew : {0.0, 0.6}) {
    const std::string drawing =
        "<g transform='rotate(" + number(skew) + " 139.7 107.95)'>" + artwork + crop_marks() + "</g>";
    const Report report = inspect_page(render(drawing, 300, sheet), letter_fold_job());
    EXPECT_NEAR(report.skew, skew, 0.01);
    const auto type = faults(report, "safe-zone"), colour = faults(report, "bleed");
    ASSERT_EQ(type.size(), 1U) << told(report);
    EXPECT_NEAR(type[0].measured->mm(), 3, 0.1) << told(report);
    ASSERT_EQ(colour.size(), 1U) << told(report);
    EXPECT_NEAR(colour[0].measured->mm(), 1, 0.1) << told(report);
    const auto size = faults(report, "page-size");
    ASSERT_EQ(size.size(), skew == 0 ? 0U : 1U) << told(report);
    for (const Finding& finding : size) EXPECT_EQ(finding.kind, "crooked");
    for (const CheckResult& check : report.checks)
      EXPECT_EQ(check.state == CheckResult::State::not_assessed, skew != 0 && check.check == "resolution");
  }
}

TEST(PageSize, MarksOfAnotherSizeAreToldWithBothNumbers) {
  const Report report = inspect_page(render(crop_marks(5), 300, sheet), letter_fold_job());
  ASSERT_EQ(report.findings.size(), 1U) << told(report);
  EXPECT_EQ(report.findings[0].kind, "marks-differ");
  EXPECT_THAT(report.findings[0].message,
              testing::AllOf(testing::HasSubstr("11.2 x 8.5 in"), testing::HasSubstr("11 x 8.5 in")));
  EXPECT_EQ(report.placed, Placing::fits_nothing);
}

TEST(PageSize, FoldMarksBesideTheFoldsAreTold) {
  // The outside's folds are at 3.625 and 7.3125 in, marked is where the inside has them.
  const Report report =
      inspect_page(render(crop_marks() + fold_marks(93.6625) + fold_marks(187.325), 300, sheet),
                   letter_fold_job(), Side::outside);
  const auto found = faults(report, "page-size");
  ASSERT_EQ(found.size(), 2U) << told(report);
  EXPECT_EQ(found[0].kind, "fold-marks-differ");
  EXPECT_EQ(found[0].fold, 1);
  EXPECT_NEAR(found[0].measured->mm(), 93.6625 - 92.075, 0.05);
  EXPECT_THAT(found[0].message, testing::HasSubstr("fold 1 of the job is at 3.62 in"));
}

TEST(PageSize, BoxesThatAreNotTheJobsAreTold) {
  Raster page = render(crop_marks(), 300, sheet);
  page.boxes.trim = PixelRect{19 * px, 16 * px, 270 * px, 215.9 * px};
  auto found = faults(inspect_page(page, letter_fold_job()), "page-size");
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found[0].kind, "boxes-differ");
  EXPECT_THAT(found[0].message, testing::HasSubstr("10.63 x 8.5 in; the job's trim is 11 x 8.5 in"));

  page.boxes.trim = PixelRect{19 * px, 16 * px, 279.4 * px, 215.9 * px};
  page.boxes.bleed = PixelRect{18 * px, 12 * px, 284 * px, 224 * px};
  found = faults(inspect_page(page, letter_fold_job()), "page-size");
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found[0].kind, "bleed-box-short");
  EXPECT_EQ(found[0].edge, Edge::left);
  EXPECT_NEAR(found[0].measured->mm(), 1, 1e-6);

  page.boxes = {};
  page.boxes.trim = PixelRect{21 * px, 16 * px, 279.4 * px, 215.9 * px};
  found = faults(inspect_page(page, letter_fold_job()), "page-size");
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found[0].kind, "marks-differ");
  EXPECT_THAT(found[0].message, testing::HasSubstr("the marks lie 0.08 in to the left"));
}

}  // namespace
}  // namespace frisket
