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

}  // namespace
}  // namespace frisket
