// A whole guide left in the page is told by its lines, and the page judged as it is below them. Pages are
// drawn in SVG and rendered by librsvg.
#include <gtest/gtest.h>

#include <algorithm>

#include "planted_page.hpp"

namespace frisket {
namespace {

using namespace planted;

std::string outline(const Rect& r, const std::string& pen) {
  return "<rect x='" + number(r.x.mm()) + "' y='" + number(r.y.mm()) + "' width='" + number(r.width.mm()) +
         "' height='" + number(r.height.mm()) + "' fill='none' " + pen + "/>";
}

/// What a guide is made of: bleed and folds dashed, the safe zone of every panel dotted, the trim solid.
std::string guide_lines(const Job& job) {
  const Rect trim{{}, {}, job.trim.width, job.trim.height};
  std::string lines =
      outline(grown(trim, job.bleed), "stroke='#56b4e9' stroke-width='0.4' stroke-dasharray='1.2 0.4'");
  for (const Panel& panel : job.inside.panels)
    lines += outline(live_area(job, job.inside, panel),
                     "stroke='#009e73' stroke-width='0.2' stroke-dasharray='0.2 0.4'");
  for (const Length fold : job.inside.folds)
    lines += "<path d='M " + number(fold.mm()) +
             " -3.2 V 219.1' stroke='#cc79a7' stroke-width='0.2' stroke-dasharray='1.2 0.4 0.2 0.4'/>";
  return lines + outline(trim, "stroke='black' stroke-width='0.16'");
}

std::vector<Finding> beside_guides(const Report& report) {
  std::vector<Finding> others;
  std::ranges::copy_if(report.findings, std::back_inserter(others), [](const Finding& finding) {
    return !finding.kind.starts_with("guide-on") && finding.check != "resolution";
  });
  return others;
}

std::ptrdiff_t count(const Report& report, std::string_view kind) {
  return std::ranges::count(report.findings, kind, &Finding::kind);
}

TEST(GuidesLeftIn, AreToldByTheirLinesAlone) {
  Job job = letter_fold_job();
  for (const double dpi : {150.0, 300.0}) {
    job.dpi = dpi;
    const Report report = inspect_page(render(guide_lines(job), dpi), job);
    EXPECT_EQ(count(report, "guide-on-trim"), 4) << told(report);
    EXPECT_EQ(count(report, "guide-on-fold"), 2) << told(report);
    EXPECT_TRUE(beside_guides(report).empty()) << told(report);
  }
}

TEST(GuidesLeftIn, DoNotCutColourAndPicturesThatBleed) {
  const Job job = letter_fold_job();
  const std::string picture = image(-3.175, -3.175, 96.8375, 80, photograph_png(1144, 945, 7));
  const std::string fields = rect(93.6625, -3.175, 188.9125, 120, "#1f5f6b") +
                             rect(-3.175, 150, 285.75, 69.075, "#e8d9b0") +
                             rect(60, 140, 120, 79.075, "#a8452e");
  const Report report = inspect_page(render(picture + fields + guide_lines(job)), job);
  EXPECT_GE(count(report, "guide-on-trim"), 2) << told(report);
  EXPECT_TRUE(beside_guides(report).empty()) << told(report);
}

TEST(GuidesLeftIn, DoNotHideWhatLiesBelow) {
  const Job job = letter_fold_job();
  const std::string below =
      text_with_top(110, 3.0, 10, "Words too high", "fill='black'") + rect(-1, 150, 40, 30, "#305070");
  const Report report = inspect_page(render(below + guide_lines(job)), job);
  const std::vector<Finding> found = beside_guides(report);
  ASSERT_EQ(found.size(), 2U) << told(report);
  EXPECT_EQ(found[0].kind, "text-in-band");
  EXPECT_NEAR(found[0].measured->mm(), 3.0, 0.1);
  EXPECT_EQ(found[1].kind, "short-bleed");
  EXPECT_NEAR(found[1].measured->mm(), 1.0, 0.1);
}

}  // namespace
}  // namespace frisket
