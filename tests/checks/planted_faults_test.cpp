// The faults a designer pays for, drawn one at a time on every kind of ground, with exact truth.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "planted_page.hpp"

namespace frisket {
namespace {

using namespace planted;

constexpr double mm_per_px = 25.4 / 300;
constexpr double trim_w = 279.4, trim_h = 215.9, bleed = 3.175;

void expect_box(const Rect& found, double x0, double y0, double x1, double y1, const Report& report) {
  EXPECT_NEAR(found.left().mm(), x0, mm_per_px) << told(report);
  EXPECT_NEAR(found.top().mm(), y0, mm_per_px) << told(report);
  EXPECT_NEAR(found.right().mm(), x1, mm_per_px) << told(report);
  EXPECT_NEAR(found.bottom().mm(), y1, mm_per_px) << told(report);
}

void expect_box(const Rect& found, const Rect& wanted, const Report& report) {
  expect_box(found, wanted.left().mm(), wanted.top().mm(), wanted.right().mm(), wanted.bottom().mm(), report);
}

struct Ground {
  const char* name;
  std::string drawing;
  std::string ink;
};

const std::vector<Ground>& grounds() {
  static const std::vector<Ground> all = [] {
    const std::string gradient =
        "<defs><linearGradient id='g' x1='0' y1='0' x2='1' y2='0.6'><stop offset='0' stop-color='#20407c'/>"
        "<stop offset='1' stop-color='#c87850'/></linearGradient></defs>";
    return std::vector<Ground>{
        {"white", "", "#202020"},
        {"flat", rect(-4, -4, 290, 230, "#2f6f6a"), "#ffffff"},
        {"gradient", gradient + rect(-4, -4, 290, 230, "url(#g)"), "#ffffff"},
        {"photograph", image(-3.175, -3.175, 285.75, 222.25, photograph_png(3375, 2625, 7)), "#ffffff"},
    };
  }();
  return all;
}

class OnGround : public testing::TestWithParam<int> {
 protected:
  const Ground& ground() const { return grounds()[static_cast<std::size_t>(GetParam())]; }
  std::string fill() const { return "fill='" + ground().ink + "'"; }
};

/// Text set so that the top of its ink lies at `top` mm.
std::string text_with_top(double x, double top, double points, const std::string& words,
                          const std::string& more) {
  const double base = 60.0;
  const Rect ink = ink_of(text(x, base, points, words));
  return text(x, base + top - ink.top().mm(), points, words, more);
}

TEST_P(OnGround, GroundAloneIsClear) {
  const Report report = inspect_page(render(ground().drawing), letter_fold_job());
  EXPECT_EQ(report.verdict, Verdict::clear) << told(report);
}

TEST_P(OnGround, HeadlineTooCloseToTheTop) {
  const std::string words = "Harbour days";
  const std::string headline = text_with_top(110, 1.9, 30, words, fill());
  const Report report = inspect_page(render(ground().drawing + headline), letter_fold_job());
  ASSERT_EQ(fault_count(report), 1U) << told(report);
  const Finding finding = faults(report, "safe-zone").at(0);
  EXPECT_EQ(finding.kind, "text-in-band");
  EXPECT_EQ(finding.severity, Severity::fix);
  EXPECT_EQ(finding.edge, Edge::top);
  EXPECT_NEAR(finding.measured->mm(), 1.9, 0.1) << told(report);
  EXPECT_NEAR(finding.required->mm(), 6.35, 1e-9);
  const Rect ink = ink_of(text_with_top(110, 1.9, 30, words, "fill='black'"));
  expect_box(finding.whole, ink, report);
  const Canvas down_to_the_safe_zone{-3.175, -3.175, 285.75, 3.175 + 6.35};
  expect_box(finding.box, ink_of(text_with_top(110, 1.9, 30, words, "fill='black'"), down_to_the_safe_zone),
             report);
}

TEST_P(OnGround, LineJustInsideTheBandIsForReview) {
  const std::string line = text_with_top(110, 6.15, 8, "Open from nine until the last boat comes in", fill());
  const Report report = inspect_page(render(ground().drawing + line), letter_fold_job());
  ASSERT_EQ(fault_count(report), 1U) << told(report);
  const Finding finding = faults(report, "safe-zone").at(0);
  EXPECT_EQ(finding.severity, Severity::review) << told(report);
  EXPECT_NEAR(finding.measured->mm(), 6.15, 0.1);
}

TEST_P(OnGround, TextWellInsideIsFine) {
  const std::string line = text(110, 40, 9, "Open from nine until the last boat", fill()) +
                           text(110, 44.2, 9, "comes in; closed when the flag", fill());
  const Report report = inspect_page(render(ground().drawing + line), letter_fold_job());
  EXPECT_EQ(report.verdict, Verdict::clear) << told(report);
}

INSTANTIATE_TEST_SUITE_P(Grounds, OnGround, testing::Range(0, 4),
                         [](const auto& p) { return grounds()[static_cast<std::size_t>(p.param)].name; });

TEST(PlantedFaults, SmallPictureOnPaperTooCloseToTheRight) {
  const double w = 30, h = 22, x = trim_w - 3 - w, y = 80;
  const Report report =
      inspect_page(render(image(x, y, w, h, photograph_png(354, 260, 3))), letter_fold_job());
  const auto found = faults(report, "safe-zone");
  ASSERT_EQ(found.size(), 1U) << told(report);
  EXPECT_EQ(found[0].kind, "picture-in-band");
  EXPECT_EQ(found[0].severity, Severity::fix);
  EXPECT_EQ(found[0].edge, Edge::right);
  EXPECT_NEAR(found[0].measured->mm(), 3.0, 0.1);
  expect_box(found[0].whole, x, y, x + w, y + h, report);
  expect_box(found[0].box, trim_w - 6.35, y, trim_w - 3, y + h, report);
}

TEST(PlantedFaults, OutlinedLogoOnABleedingPhotograph) {
  const std::string photograph = image(-3.175, -3.175, 120, 222.25, photograph_png(1417, 2625, 5));
  const std::string logo =
      "<path d='M 10 150 L 22 150 L 26 160 L 16 170 L 6 160 Z M 12 158 a 4 4 0 1 0 8 0 a 4 4 0 1 0 -8 0' "
      "transform='translate(-3.6,0)' fill='none' stroke='white' stroke-width='0.8' stroke-linejoin='round'/>";
  // White on white has no ink to measure: drawn black for the truth.
  std::string black = logo;
  black.replace(black.find("white"), 5, "black");
  const Rect truth = ink_of(black);
  ASSERT_NEAR(truth.left().mm(), 2.0, 0.1);
  const Report report = inspect_page(render(photograph + logo), letter_fold_job());
  const auto found = faults(report, "safe-zone");
  ASSERT_EQ(found.size(), 1U) << told(report);
  EXPECT_EQ(found[0].severity, Severity::fix);
  EXPECT_EQ(found[0].edge, Edge::left);
  EXPECT_NEAR(found[0].measured->mm(), truth.left().mm(), 0.1);
  expect_box(found[0].whole, truth, report);
  EXPECT_EQ(fault_count(report), 1U) << told(report);
}

TEST(PlantedFaults, FieldThatStopsAtTheTrim) {
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

TEST(PlantedFaults, PhotographWithHalfItsBleedOnOneEdge) {
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

TEST(PlantedFaults, FieldThatStopsInsideTheTrimLeavesASliver) {
  const Report report = inspect_page(
      render(rect(30, -4, 50, 60, "#404a80") + rect(100, 100, 178.9, 60, "#404a80")), letter_fold_job());
  ASSERT_EQ(fault_count(report), 1U) << told(report);
  const Finding finding = faults(report, "bleed").at(0);
  EXPECT_EQ(finding.kind, "sliver");
  EXPECT_EQ(finding.severity, Severity::fix);
  EXPECT_EQ(finding.edge, Edge::right);
  EXPECT_NEAR(finding.measured->mm(), -0.5, 0.1);
}

TEST(PlantedFaults, CanvasWithoutBleed) {
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

TEST(PlantedFaults, TextAcrossAFoldButNotAGutterOrAPicture) {
  const double fold1 = 93.6625, fold2 = 187.325;
  std::string drawing;
  for (int line = 0; line < 8; ++line) {
    drawing += text(fold1 - 60, 30 + 4.5 * line, 9, "Boats leave the slip at the half hour");
    drawing += text(fold1 + 3.6, 30 + 4.5 * line, 9, "and return when the tide is low");
  }
  const std::string across = text(fold2 - 40, 100, 12, "A line of words that goes across the fold");
  drawing += across;
  drawing += image(60, 140, 160, 40, photograph_png(1890, 472, 9));
  const Report report = inspect_page(render(drawing), letter_fold_job());
  ASSERT_EQ(fault_count(report), 1U) << told(report);
  const Finding finding = faults(report, "folds").at(0);
  EXPECT_EQ(finding.kind, "text-across-fold");
  EXPECT_EQ(finding.fold, 2);
  EXPECT_EQ(finding.measured->mm(), 0.0);
  expect_box(finding.whole, ink_of(across), report);
}

TEST(PlantedFaults, ColourBreakOffItsFold) {
  const double fold1 = 93.6625, fold2 = 187.325;
  const std::string drawing =
      rect(-4, -4, fold1 + 1.2 + 4, 230, "#e8d8b0") + rect(fold2 + 0.2, -4, 120, 230, "#7a9a70");
  const Report report = inspect_page(render(drawing), letter_fold_job());
  ASSERT_EQ(fault_count(report), 1U) << told(report);
  const Finding finding = faults(report, "folds").at(0);
  EXPECT_EQ(finding.kind, "colour-break-off-fold");
  EXPECT_EQ(finding.severity, Severity::fix);
  EXPECT_EQ(finding.fold, 1);
  EXPECT_NEAR(finding.measured->mm(), 1.2, 0.1);
}

TEST(PlantedFaults, HairlineAlongAFold) {
  const double fold1 = 93.6625;
  for (const char* dash : {"", "stroke-dasharray='3 2'", "stroke-dasharray='0.4 0.8'"}) {
    const std::string line = "<path d='M " + number(fold1) +
                             " -3.2 V 219.1' stroke='black' stroke-width='0.1' " + std::string(dash) + "/>";
    const Report report = inspect_page(render(line + rect(150, -4, 200, 230, "#c0c8d8")), letter_fold_job());
    const auto found = faults(report, "folds");
    ASSERT_EQ(found.size(), 1U) << dash << told(report);
    EXPECT_EQ(found[0].kind, "guide-on-fold");
    EXPECT_EQ(found[0].severity, Severity::fix);
    EXPECT_EQ(found[0].fold, 1);
    EXPECT_EQ(fault_count(report), 1U) << told(report);
  }
}

TEST(PlantedFaults, A4UnderALetterTicket) {
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

}  // namespace
}  // namespace frisket
