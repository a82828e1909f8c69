// safe-zone: headlines, lines, pictures and drawings too close to the trim, on every kind of ground, with
// exact truth.
#include <gtest/gtest.h>

#include <cmath>

#include "planted_page.hpp"

namespace frisket {
namespace {

using namespace planted;

struct Ground {
  const char* name;
  std::string (*drawing)();  ///< drawn where it is wanted: a photograph takes a second
  const char* ink;
};

/// `tile` repeated over the canvas every `pitch` mm, turned by `degrees`.
std::string pattern(double pitch, double degrees, const std::string& tile) {
  return "<defs><pattern id='t' width='" + number(pitch) + "' height='" + number(pitch) +
         "' patternUnits='userSpaceOnUse' patternTransform='rotate(" + number(degrees) + ")'>" + tile +
         "</pattern></defs>" + rect(-4, -4, 290, 230, "url(#t)");
}

std::string photograph_over_all() {
  return image(-3.175, -3.175, 285.75, 222.25, photograph_png(3375, 2625, 7));
}

constexpr Ground grounds[]{
    {"white", [] { return std::string(); }, "#202020"},
    {"flat", [] { return rect(-4, -4, 290, 230, "#2f6f6a"); }, "#ffffff"},
    {"gradient",
     [] {
       return "<defs><linearGradient id='g' x1='0' y1='0' x2='1' y2='0.6'><stop offset='0' "
              "stop-color='#20407c'/><stop offset='1' stop-color='#c87850'/></linearGradient></defs>" +
              rect(-4, -4, 290, 230, "url(#g)");
     },
     "#ffffff"},
    {"dots",
     [] {
       return pattern(4, 25, rect(0, 0, 4, 4, "#f3ead8") + "<circle cx='2' cy='2' r='1' fill='#e6b8c0'/>");
     },
     "#301848"},
    {"board",
     [] {
       return pattern(9, 0,
                      rect(0, 0, 9, 9, "#7db068") + rect(0, 0, 4.5, 4.5, "#607850") +
                          rect(4.5, 4.5, 4.5, 4.5, "#607850"));
     },
     "#ffffff"},
    {"photograph", photograph_over_all, "#ffffff"},
    {"honeycomb",
     [] {
       return std::string(
                  "<defs><pattern id='h' width='12' height='20.78' patternUnits='userSpaceOnUse'><rect "
                  "width='12' height='20.78' fill='#14213d'/><path d='M6,0 L12,3.46 L12,10.39 L6,13.86 "
                  "L0,10.39 L0,3.46 Z M6,13.86 L6,20.78' fill='none' stroke='#31487a' "
                  "stroke-width='0.5'/></pattern></defs>") +
              rect(-4, -4, 290, 230, "url(#h)");
     },
     "#ffffff"},
};

class OnGround : public testing::TestWithParam<int> {
 protected:
  const Ground& ground() const { return grounds[GetParam()]; }
  std::string fill() const { return std::string("fill='") + ground().ink + "'"; }
};

constexpr double trim_w = 279.4;  // mm, of letter_fold_job()

TEST_P(OnGround, GroundAloneIsClear) {
  const Report report = inspect_page(render(ground().drawing()), letter_fold_job());
  // a note may say that the photograph's resolution is unknown: its octaves are interpolated
  EXPECT_EQ(fault_count(report), 0U) << told(report);
}

TEST_P(OnGround, HeadlineTooCloseToTheTop) {
  const std::string words = "Harbour days";
  const std::string headline = text_with_top(110, 1.9, 30, words, fill());
  const Report report = inspect_page(render(ground().drawing() + headline), letter_fold_job());
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
  const Report report = inspect_page(render(ground().drawing() + line), letter_fold_job());
  ASSERT_EQ(fault_count(report), 1U) << told(report);
  const Finding finding = faults(report, "safe-zone").at(0);
  EXPECT_EQ(finding.severity, Severity::review) << told(report);
  EXPECT_NEAR(finding.measured->mm(), 6.15, 0.1);
}

TEST_P(OnGround, TextWellInsideIsFine) {
  const std::string line = text(110, 40, 9, "Open from nine until the last boat", fill()) +
                           text(110, 44.2, 9, "comes in; closed when the flag", fill());
  const Report report = inspect_page(render(ground().drawing() + line), letter_fold_job());
  EXPECT_EQ(report.verdict, Verdict::clear) << told(report);
}

INSTANTIATE_TEST_SUITE_P(Grounds, OnGround, testing::Range(0, 7),
                         [](const auto& p) { return grounds[p.param].name; });

TEST(SafeZone, SmallPictureOnPaperTooCloseToTheRight) {
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

TEST(SafeZone, OutlinedLogoOnABleedingPhotograph) {
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

TEST(SafeZone, WhatStandsInACornerIsToldOnceWithBothWays) {
  const std::string mark = "<circle cx='4.5' cy='3.7' r='1.6' fill='#702030'/>";
  const Report report = inspect_page(render(mark), letter_fold_job());
  const auto found = faults(report, "safe-zone");
  ASSERT_EQ(found.size(), 1U) << told(report);
  EXPECT_EQ(found[0].edge, Edge::top);
  EXPECT_NEAR(found[0].measured->mm(), 2.1, 0.1);
  EXPECT_NE(found[0].message.find("(and 0.11 in from the left trim)"), std::string::npos) << found[0].message;
  EXPECT_NE(found[0].advice.find(" and right by 0.14 in"), std::string::npos) << found[0].advice;
}

/// Lines of 9 pt at 4 mm from the left, all `indent` farther in where `out` does not say so.
std::string lines_at_the_left(std::string_view out, double indent) {
  std::string lines;
  for (std::size_t i = 0; i < out.size(); ++i)
    lines += text(out[i] == 'o' ? 4 : 4 + indent, 40 + 4.2 * double(i), 9,
                  "Open from nine until the last boat", "");
  return lines;
}

TEST(SafeZone, LinesThatStickOutOfAColumnAreToldApart) {
  const Report report = inspect_page(render(lines_at_the_left("o...oo...", 3)), letter_fold_job());
  const auto found = faults(report, "safe-zone");
  ASSERT_EQ(found.size(), 2U) << told(report);
  expect_box(found[0].whole, ink_of(lines_at_the_left("o", 3)), report);
  EXPECT_NE(found[1].message.find("2 lines"), std::string::npos) << found[1].message;
}

TEST(SafeZone, LinesOfARaggedMarginAreOneFinding) {
  const Report report = inspect_page(render(lines_at_the_left("oo.o.ooo.", 3)), letter_fold_job());
  const auto found = faults(report, "safe-zone");
  ASSERT_EQ(found.size(), 1U) << told(report);
  EXPECT_NE(found[0].message.find("6 lines"), std::string::npos) << found[0].message;
}

TEST(SafeZone, FrameAllRoundIsOneThingToReview) {
  const std::string frame =
      "<rect x='4' y='4.2' width='271.4' height='207.5' fill='none' stroke='#333' stroke-width='0.6'/>";
  const Report report = inspect_page(render(frame + text(110, 60, 12, "Framed words")), letter_fold_job());
  ASSERT_EQ(fault_count(report), 1U) << told(report);
  const Finding finding = faults(report, "safe-zone").at(0);
  EXPECT_EQ(finding.kind, "frame-near-trim");
  EXPECT_EQ(finding.severity, Severity::review);
  EXPECT_NEAR(finding.measured->mm(), 3.7, 0.1);
}

TEST(SafeZone, ThinLinesThatTheCutMayReachAreNoColourThatStopsShort) {
  const std::string field =
      rect(40, 60, 180, 120, "#c7d7c0");  // frames are told by their line, not what they hold
  const std::string frame =
      "<rect x='1.3' y='1.3' width='276.8' height='213.3' fill='none' stroke='#0a5c5c' stroke-width='0.25'/>";
  const std::string rule = rect(20, 215.9 - 1.3, 200, 0.4, "#7b2d26");
  for (const std::string& lines : {frame, rule}) {
    const Report report = inspect_page(render(field + lines), letter_fold_job());
    ASSERT_EQ(fault_count(report), 1U) << told(report);
    const Finding finding = faults(report, "safe-zone").at(0);
    EXPECT_EQ(finding.kind, "frame-near-trim");
    EXPECT_EQ(finding.severity, Severity::review);
    EXPECT_NEAR(finding.measured->mm(), lines == frame ? 1.175 : 0.9, 0.1);
    EXPECT_NE(finding.message.find("the cut, good to"), std::string::npos) << finding.message;
  }
}

TEST(SafeZone, AScatterOfDotsIsOneFindingOfAnEdge) {
  const auto dots = [](int count) {
    std::string circles;
    for (int i = 0; i < count; ++i)
      circles += "<circle cx='" + number(20 + 37.3 * i * (1 + i % 3)) + "' cy='" + number(2.5 + 0.4 * i) +
                 "' r='" + number(0.4 + 0.1 * i) + "' fill='#b04030'/>";
    return circles;
  };
  const Report many = inspect_page(render(dots(4)), letter_fold_job());
  ASSERT_EQ(faults(many, "safe-zone").size(), 1U) << told(many);
  const Finding finding = faults(many, "safe-zone").at(0);
  EXPECT_TRUE(finding.message.starts_with("Small drawings, 4 of them, are")) << finding.message;
  EXPECT_TRUE(finding.advice.ends_with("or let them bleed.")) << finding.advice;
  EXPECT_NEAR(finding.measured->mm(), 2.1, 0.1);
  const Report two = inspect_page(render(dots(2)), letter_fold_job());
  EXPECT_EQ(faults(two, "safe-zone").size(), 2U) << told(two);
}

TEST(SafeZone, ConfettiIsAGroundThatBleedsAndTypeOnItIsMeasured) {
  std::string chips;
  for (int i = 0; i < 400; ++i)
    chips += "<rect width='2.6' height='1.4' fill='" + std::string(i % 2 ? "#c8553d" : "#588b8b") +
             "' transform='translate(" + number(-4 + std::fmod(i * 61.803, 288)) + " " +
             number(-4 + 0.575 * i) + ") rotate(" + number(37 * i % 180) + ")'/>";
  const Report alone = inspect_page(render(chips), letter_fold_job());
  EXPECT_EQ(fault_count(alone), 0U) << told(alone);
  const auto note = std::ranges::find(alone.findings, "matter-cut", &Finding::kind);
  ASSERT_NE(note, alone.findings.end());
  EXPECT_EQ(note->severity, Severity::note);
  EXPECT_NE(note->message.find("are strewn over the page"), std::string::npos) << note->message;
  EXPECT_NE(note->advice.find("were not measured"), std::string::npos) << note->advice;
  EXPECT_LT(std::max(note->box.width, note->box.height).mm(), 8);  // one of them is shown, not the page
  const std::string label =
      rect(20, 1, 90, 14, "#ffffff") + text(24, 9, 14, "Open daily until eight", "fill='#20305a'");
  const Report labelled = inspect_page(render(chips + label), letter_fold_job());
  const std::vector<Finding> found = faults(labelled, "safe-zone");
  ASSERT_EQ(found.size(), 1U) << told(labelled);
  EXPECT_EQ(found[0].kind, "text-in-band");
  EXPECT_NEAR(found[0].whole.x.mm(), 24, 0.6);
}

TEST(SafeZone, BoxesOfACalendarAreNoPattern) {
  std::string boxes;
  for (int day = 0; day < 30; ++day)
    boxes += "<rect x='" + number(8.4 + 38.5 * (day % 7)) + "' y='" +
             number(128 + 15.5 * std::floor(day / 7)) +
             "' width='36.5' height='14' fill='none' stroke='#2b4a2b' stroke-width='0.2'/>";
  const Report report = inspect_page(render(boxes), letter_fold_job());
  const std::vector<Finding> found = faults(report, "safe-zone");
  const auto at_right =
      std::ranges::find(found, Edge::right, [](const Finding& f) { return f.edge.value(); });
  ASSERT_NE(at_right, found.end()) << told(report);
  EXPECT_NEAR(at_right->measured->mm(), 279.4 - 8.4 - 6 * 38.5 - 36.5 - 0.1, 0.1);
}

TEST(SafeZone, AWhiteBoxJustInsideTheTrimIsNoBleedThatLacks) {
  const std::string label = rect(240, 60, 38.6, 40, "#ffffff") + rect(250, 70, 18, 20, "#000000");
  const Report report = inspect_page(render(rect(-4, -4, 290, 230, "#e2dcc8") + label), letter_fold_job());
  const std::vector<Finding> found = faults(report, "safe-zone");
  ASSERT_EQ(found.size(), 1U) << told(report);
  EXPECT_EQ(found[0].edge, Edge::right);
  EXPECT_NEAR(found[0].measured->mm(), 0.8, 0.1);
}

/// White chips of about `side` mm strewn over blue, no two next to one another alike.
std::string strewn_chips(int count, double side) {
  std::string chips = rect(-4, -4, 290, 230, "#1d4e89");
  for (int i = 0; i < count; ++i)
    chips += rect(-4 + std::fmod(i * 61.803, 286), -4 + std::fmod(i * 37.7 + i * i * 0.013, 224),
                  side * (0.7 + 0.07 * (i % 7)), side * (1.2 - 0.08 * (i % 5)), "#ffffff");
  return chips;
}

TEST(SafeZone, TypeAmongSnowOfItsColourIsMeasured) {
  std::string snow = rect(-4, -4, 290, 230, "#1d4e89");
  for (int i = 0; i < 400; ++i)
    snow += "<circle cx='" + number(-4 + std::fmod(i * 61.803, 288)) + "' cy='" +
            number(-4 + std::fmod(i * 37.7 + i * i * 0.013, 228)) + "' r='0.95' fill='#ffffff'/>";
  const std::string line = text(100, 213, 9, "Midwinter fair in the market hall", "fill='#ffffff'");
  const Report report = inspect_page(render(snow + line), letter_fold_job());
  const std::vector<Finding> found = faults(report, "safe-zone");
  ASSERT_EQ(found.size(), 1U) << told(report);
  EXPECT_EQ(found[0].kind, "text-in-band");
  EXPECT_NEAR(found[0].whole.width.mm(), 49, 5);
}

TEST(SafeZone, AWhiteChipAtTheCanvasEdgeIsNoEndOfTheGround) {
  const std::string chip = rect(120, -4, 4.3, 3.3, "#ffffff");
  const Report report = inspect_page(render(strewn_chips(500, 3.9) + chip), letter_fold_job());
  EXPECT_EQ(faults(report, "bleed").size(), 0U) << told(report);
  const Report alone = inspect_page(render(strewn_chips(0, 0) + chip), letter_fold_job());
  EXPECT_EQ(faults(alone, "bleed").size(), 1U) << told(alone);
}

TEST(SafeZone, DashesOfAPerforationMayRunOffThePage) {
  const auto dashed = [](double from, double to) {
    return "<line x1='90' x2='90' y1='" + number(from) + "' y2='" + number(to) +
           "' stroke='#333' stroke-width='0.3' stroke-dasharray='0.8 0.8'/>";
  };
  const Report report = inspect_page(render(dashed(-3.9, 222)), letter_fold_job());
  EXPECT_EQ(fault_count(report), 0U) << told(report);
  const Report ends = inspect_page(render(dashed(2, 212)), letter_fold_job());
  EXPECT_EQ(faults(ends, "safe-zone").size(), 2U) << told(ends);
}

TEST(SafeZone, LinesThatWereReadAcrossOneAnotherAreToldOnce) {
  // Characters of equal width stand in columns as well as in rows: one column is read down the page.
  std::string lines;
  double y = 60;
  for (const char* words : {"夏の祭り 海辺的小屋", "船の時間 港口の市場", "港口の市場 海辺的小屋"}) {
    lines += "<text x='222.7' y='" + number(y) + "' font-family='WenQuanYi Micro Hei' font-size='5.6'>" +
             words + "</text>";
    y += 7;
  }
  const Report report = inspect_page(render(lines), letter_fold_job());
  const std::vector<Finding> found = faults(report, "safe-zone");
  ASSERT_EQ(found.size(), 1U) << told(report);
  EXPECT_EQ(found[0].kind, "matter-cut");
  EXPECT_NEAR(found[0].whole.height.mm(), 19, 1);
}

TEST(SafeZone, ALineAtOneSideOfADrawingMakesNoFrameOfTheOthers) {
  const std::string hull = rect(40, 150, 180, 62, "#2a5a4a");
  const std::string mast = rect(2.2, 110, 0.5, 45, "#7b2d26") + rect(2.2, 152, 38, 0.5, "#7b2d26");
  const std::string name = text(100, 211, 12, "Words on the hull move with it", "fill='white'");
  const Report report = inspect_page(render(hull + mast + name), letter_fold_job());
  const std::vector<Finding> found = faults(report, "safe-zone");
  const auto below = std::ranges::find(found, Edge::bottom, [](const Finding& f) { return f.edge.value(); });
  ASSERT_NE(below, found.end()) << told(report);
  EXPECT_EQ(below->kind, "drawing-in-band");
  EXPECT_EQ(found.size(), 2U) << told(report);
}

TEST(SafeZone, FrameOverBandsOfColourIsStillAFrame) {
  // Each band goes on below the frame; none of them alone fills most of it.
  std::string bands;
  const std::array colours{"#122a44", "#2e445c", "#4a5e74", "#66788c", "#8292a4", "#9eacbc"};
  for (int i = 0; i < 6; ++i)
    bands += rect(-4, -4 + 38 * i, 290, 38.5, colours.at(static_cast<std::size_t>(i)));
  const std::string frame =
      "<rect x='4' y='4.2' width='271.4' height='207.5' fill='none' stroke='white' stroke-width='0.6'/>";
  const Report report = inspect_page(render(bands + frame), letter_fold_job());
  ASSERT_EQ(fault_count(report), 1U) << told(report);
  EXPECT_EQ(faults(report, "safe-zone").at(0).kind, "frame-near-trim");
}

TEST(SafeZone, LettersWithTheirShadowInTheCounterAreNoPictures) {
  const std::string ink = text_with_top(110, 2.2, 72, "Quay", "fill='#17324d'");
  const std::string shadow =
      "<defs><filter id='b' x='-20%' y='-20%' width='140%' height='140%'><feGaussianBlur stdDeviation='0.8'/>"
      "</filter></defs><g filter='url(#b)' opacity='0.5' transform='translate(0.9,0.9)'>" +
      text_with_top(110, 2.2, 72, "Quay", "fill='black'") + "</g>";
  const Report report = inspect_page(render(shadow + ink), letter_fold_job());
  ASSERT_EQ(fault_count(report), 1U) << told(report);
  const Finding finding = faults(report, "safe-zone").at(0);
  EXPECT_EQ(finding.kind, "text-in-band");
  expect_box(finding.whole, ink_of(ink), report);
}

TEST(SafeZone, FrameDoesNotHideWhatItEncloses) {
  const std::string frame =
      "<rect x='2' y='2' width='275.4' height='211.9' fill='none' stroke='#333' stroke-width='0.6'/>";
  const std::string line = text_with_top(110, 4.0, 10, "Words too high in the frame", "fill='black'");
  const Report report = inspect_page(render(frame + line), letter_fold_job());
  EXPECT_EQ(fault_count(report), 2U) << told(report);
}

TEST(SafeZone, RectangleLeftOnTheTrimIsAGuideOnEachEdge) {
  const std::string box =
      "<rect x='0' y='0' width='279.4' height='215.9' fill='none' stroke='black' stroke-width='0.2'/>";
  const Report report = inspect_page(render(box), letter_fold_job());
  EXPECT_EQ(fault_count(report), 4U) << told(report);
  for (const Finding& finding : faults(report, "safe-zone")) EXPECT_EQ(finding.kind, "guide-on-trim");
}

TEST(SafeZone, AGapBetweenDotsAlongTheTrimIsNoGuide) {
  const double pitch = 5.08;  // 60 px, and gaps of 16
  std::string page = rect(-4, -4, 290, 226, "#f4a742");
  for (double y = -pitch; y < 222; y += pitch)
    for (double x = -1.5 * pitch; x < 286; x += pitch)
      page += "<circle cx='" + number(x) + "' cy='" + number(y) + "' r='1.855' fill='#85602b'/>";
  const Report report = inspect_page(render(page), letter_fold_job());
  EXPECT_EQ(fault_count(report), 0U) << told(report);
}

TEST(SafeZone, TypeThatRunsDownThePageIsOneLine) {
  const std::string turned = "<g transform='translate(276.5,150) rotate(-90)'>" +
                             text(0, 0, 8, "Printed in Little Saltings, 1 of 11") + "</g>";
  const Report report = inspect_page(render(turned), letter_fold_job());
  ASSERT_EQ(fault_count(report), 1U) << told(report);
  EXPECT_EQ(faults(report, "safe-zone").at(0).edge, Edge::right);
  expect_box(faults(report, "safe-zone").at(0).whole, ink_of(turned), report);
}

TEST(SafeZone, PatternThatBleedsIsGround) {
  std::string dots;
  for (int row = -1; row < 28; ++row)
    for (int column = -1; column < 36; ++column)
      dots += "<circle cx='" + number(8.0 * column + 2.1) + "' cy='" + number(8.0 * row + 1.3) +
              "' r='1.4' fill='#c86040'/>";
  const Report report = inspect_page(render(dots), letter_fold_job());
  EXPECT_EQ(report.verdict, Verdict::clear) << told(report);
}

TEST(SafeZone, GradientInSlantedStepsIsGround) {
  // Bands 4 levels apart: the steps of their anti-aliased borders are those of a smooth gradient.
  std::string steps;
  for (int i = 0; i < 42; ++i)
    steps += "<path d='M" + number(8 * i - 60) + " -4h400l-30 230h-400z' fill='rgb(" +
             std::to_string(190 - 4 * i) + ",120," + std::to_string(90 + 4 * i) + ")'/>";
  const std::string headline = text_with_top(110, 2.2, 24, "Harbour days", "");
  const Report report = inspect_page(render(steps + headline), letter_fold_job());
  ASSERT_EQ(fault_count(report), 1U) << told(report);
  expect_box(faults(report, "safe-zone").at(0).whole, ink_of(headline), report);
}

// Drawn by librsvg's own Gaussian blur (SVG 1.1, 15.17).
/// Squares of two colours that take turns, to past the canvas, turned about the page's corner.
std::string board(double side, double degrees) {
  std::string path;
  for (int row = -200; row < 200; ++row)
    for (int column = -200; column < 200; ++column) {
      const double x = side * column, y = side * row;
      if ((row + column) % 2 != 0 || std::hypot(x - 140, y - 108) > 200) continue;
      path += "M" + number(x) + " " + number(y) + "h" + number(side) + "v" + number(side) + "h-" +
              number(side) + "z";
    }
  return rect(-4, -4, 290, 230, "#7fb069") + "<path transform='rotate(" + number(degrees) +
         " 140 108)' fill='#98885c' d='" + path + "'/>";
}

TEST(SafeZone, BoardIsGround) {
  // Tiles smaller than a field, as large as one, and turned.
  for (const auto& [side, degrees] : {std::pair(2.0, 0.0), std::pair(3.3, 0.0), std::pair(2.6, 30.0)}) {
    const std::string inside = text(120, 110, 30, "Lantern");
    const Report clean = inspect_page(render(board(side, degrees) + inside), letter_fold_job());
    EXPECT_EQ(fault_count(clean), 0U) << side << told(clean);
    const std::string near = text_with_top(110, 2.2, 20, "Lantern", "");
    const Report report = inspect_page(render(board(side, degrees) + near), letter_fold_job());
    ASSERT_EQ(fault_count(report), 1U) << side << told(report);
    EXPECT_EQ(faults(report, "safe-zone").at(0).kind, "text-in-band");
    expect_box(faults(report, "safe-zone").at(0).whole, ink_of(near), report);
  }
}

TEST(SafeZone, ShadowIsNoInk) {
  const std::string headline = text_with_top(110, 2.4, 30, "Harbour days", "fill='#c03020'");
  const std::string shadow =
      "<defs><filter id='b' x='-20%' y='-20%' width='140%' height='140%'><feGaussianBlur stdDeviation='0.6'/>"
      "</filter></defs><g filter='url(#b)' opacity='0.6' transform='translate(0,-0.8)'>" +
      text_with_top(110, 2.4, 30, "Harbour days", "fill='black'") + "</g>";
  const Report report =
      inspect_page(render(rect(-4, -4, 290, 230, "#f0ead8") + shadow + headline), letter_fold_job());
  ASSERT_EQ(fault_count(report), 1U) << told(report);
  const Finding finding = faults(report, "safe-zone").at(0);
  EXPECT_EQ(finding.kind, "text-in-band");
  expect_box(finding.whole, ink_of(text_with_top(110, 2.4, 30, "Harbour days", "fill='black'")), report);
}

class OnJpegPage : public testing::TestWithParam<int> {};

TEST_P(OnJpegPage, TypeIsFoundWithoutItsRinging) {
  const std::string headline = text_with_top(110, 1.9, 18, "Harbour days", "fill='#fff4d8'");
  const std::string inside = text(110, 40, 9, "Open from nine until the last boat", "fill='#fff4d8'");
  const Raster page = render(rect(-4, -4, 290, 230, "#0c4836") + headline + inside);
  const Report report = inspect_page(as_jpeg(page, GetParam()), letter_fold_job());
  ASSERT_EQ(fault_count(report), 1U) << told(report);
  const Finding finding = faults(report, "safe-zone").at(0);
  EXPECT_EQ(finding.kind, "text-in-band");
  const Rect ink = ink_of(text_with_top(110, 1.9, 18, "Harbour days", "fill='black'"));
  const double within = 2 * mm_per_px;
  EXPECT_NEAR(finding.whole.left().mm(), ink.left().mm(), within) << told(report);
  EXPECT_NEAR(finding.whole.top().mm(), ink.top().mm(), within) << told(report);
  EXPECT_NEAR(finding.whole.right().mm(), ink.right().mm(), within) << told(report);
  EXPECT_NEAR(finding.whole.bottom().mm(), ink.bottom().mm(), within) << told(report);
}

/// Where its ringing ends is no border of two grounds, however the rule lies to the blocks of 8 px.
TEST_P(OnJpegPage, AThinRuleIsFound) {
  Job job = letter_fold_job();
  job.dpi = 200;
  for (const auto& [ground, ink] : {std::pair{"#5b8e7d", "#f4d03f"}, std::pair{"#ffffff", "#7a1020"}}) {
    std::string rules;
    for (int i = 0; i < 8; ++i) rules += rect(12 + 33 * i, 211 + i * 25.4 / 200, 24, 0.25, ink);
    const Raster page = render(rect(-4, -4, 290, 230, ground) + rules, 200);
    const Report report = inspect_page(as_jpeg(page, GetParam()), job);
    EXPECT_EQ(faults(report, "safe-zone").size(), 8U) << ground << told(report);
  }
}

INSTANTIATE_TEST_SUITE_P(Quality, OnJpegPage, testing::Values(80, 90));

}  // namespace
}  // namespace frisket
