// folds: text across them, colour breaks off them, guide lines on them, with exact truth.
#include <gtest/gtest.h>

#include <cmath>

#include "planted_page.hpp"

namespace frisket {
namespace {

using namespace planted;

// Inside folds of the published letter fold for 11 in: 3.6875 and 7.375 in.

TEST(Folds, TextAcrossAFoldButNotAGutterOrAPicture) {
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

TEST(Folds, WordOfTwoLettersAtAnAngle) {
  const double fold1 = 93.6625;
  for (const int degrees : {35, -20}) {
    const std::string word = "<g transform='translate(" + number(fold1 - 4) + " 100) rotate(" +
                             number(degrees) + ")'>" + text(0, 0, 48, "No.") + "</g>";
    const Report report = inspect_page(render(word), letter_fold_job());
    ASSERT_EQ(fault_count(report), 1U) << degrees << told(report);
    const Finding finding = faults(report, "folds").at(0);
    EXPECT_EQ(finding.kind, "text-across-fold");
    EXPECT_EQ(finding.severity, Severity::fix);
    expect_box(finding.whole, ink_of(word), report);
  }
}

TEST(Folds, TextOnANarrowTabAcrossAFold) {
  const double fold1 = 93.6625;
  const std::string tab = rect(fold1 - 60, 96.5, 120, 4.8, "#fbe9f2");
  const std::string word = text(fold1 - 12, 100.1, 9, "separator between two dates");
  const Report report = inspect_page(render(tab + word), letter_fold_job());
  ASSERT_EQ(fault_count(report), 1U) << told(report);
  EXPECT_EQ(faults(report, "folds").at(0).kind, "text-across-fold");
  expect_box(faults(report, "folds").at(0).whole, ink_of(word), report);
}

TEST(Folds, LoneFigureBesideAWordOfThreeLettersButNotAStar) {
  // Spaced so wide that figure and star stand a letter's height off; it is the pen that tells them apart.
  const double fold1 = 93.6625;
  const std::string word = text(fold1 - 30, 100, 36, "No.", "fill='#8a1020'");
  const std::string figure = text(fold1 - 1.5, 100, 36, "5", "fill='#8a1020'");
  const Report with_figure = inspect_page(render(word + figure), letter_fold_job());
  ASSERT_EQ(fault_count(with_figure), 1U) << told(with_figure);
  EXPECT_EQ(faults(with_figure, "folds").at(0).kind, "text-across-fold");
  expect_box(faults(with_figure, "folds").at(0).whole, ink_of(word + figure), with_figure);
  const std::string star = "<path d='M " + number(fold1 + 3) +
                           " 91 l 1.2 3 h 3.2 l -2.5 2 l 1 3.2 l -2.9 -1.9 l -2.9 1.9 l 1 -3.2 l -2.5 -2 h "
                           "3.2 z' fill='#8a1020'/>";
  const Report with_star = inspect_page(render(word + star), letter_fold_job());
  EXPECT_EQ(fault_count(with_star), 0U) << told(with_star);
}

TEST(Folds, BadgeFarFromALineOfOneInkIsNoneOfItsLetters) {
  const double fold1 = 93.6625;
  const std::string badge = "<g transform='translate(" + number(fold1 - 12) +
                            " 95) rotate(25)'><path d='M -4 -4 h 8 v 8 h -8 z' fill='#3d1f6e'/></g>";
  const std::string words = text(fold1 + 12, 100, 40, "Quay 7", "fill='#3d1f6e'");
  const Report report = inspect_page(render(badge + words), letter_fold_job());
  EXPECT_EQ(fault_count(report), 0U) << told(report);
}

TEST(Folds, PartsOfADrawingAreNoWordOfTwoLetters) {
  const double fold1 = 93.6625, x = fold1 - 6;
  const std::string boat = "<g transform='translate(" + number(x) +
                           " 100) rotate(25)'><path d='M 0 9 h 20 l -4 5 h -12 z M 10 0 l 7 8 h -7 z' "
                           "fill='#143'/></g>";
  const std::string stars = "<circle cx='" + number(x) + "' cy='150' r='5' fill='#143'/><circle cx='" +
                            number(x + 9) + "' cy='158' r='2' fill='#143'/>";
  const Report report = inspect_page(render(boat + stars), letter_fold_job());
  EXPECT_EQ(fault_count(report), 0U) << told(report);
}

TEST(Folds, LettersOnTwoGroundsAreOfOneInk) {
  // The o shows a ground in its counter that is neither on its left nor on its right for the most part.
  const double fold1 = 93.6625;
  const std::string word = text(fold1 - 12, 120, 72, "No", "fill='#e4572e'");
  const Rect ink = ink_of(word);
  const double seam = ink.right().mm() - 4;
  const Report report = inspect_page(
      render(rect(-4, -4, seam + 4, 230, "#10283c") + rect(seam + 2.5, -4, 300, 230, "#10283c") + word),
      letter_fold_job());
  ASSERT_FALSE(faults(report, "folds").empty()) << told(report);
  EXPECT_EQ(faults(report, "folds").at(0).kind, "text-across-fold");
  expect_box(faults(report, "folds").at(0).whole, ink, report);
}

TEST(Folds, ColumnsOfUnlikeLinesMakeAGutter) {
  // Devanagari words make heaps of lines, the columns differ in ink, size and leading, and each is short.
  const double fold1 = 93.6625;
  const auto line = [&](double x, double y, double points, const std::string& family,
                        const std::string& words, const std::string& fill) {
    return "<text x='" + number(x) + "' y='" + number(y) + "' font-family='" + family + "' fill='" + fill +
           "' font-size='" + number(points * 25.4 / 72.0) + "'>" + words + "</text>";
  };
  std::string drawing;
  for (int i = 0; i < 4; ++i) {
    drawing += line(fold1 - 16.4, 60 + 3.3 * i, 8, "Lohit Devanagari", "बंदरगाह बाज़ार", "#143");
    drawing +=
        line(fold1 + 1.3, 60 + 3.4 * i, 8.5, "DejaVu Serif", i % 2 == 0 ? "Open daily" : "Quay 7", "#414");
  }
  const Rect left = ink_of(line(fold1 - 16.4, 60, 8, "Lohit Devanagari", "बंदरगाह बाज़ार", "#143"));
  ASSERT_LT(left.right().mm(), fold1 - 0.6);
  const Report report = inspect_page(render(drawing), letter_fold_job());
  EXPECT_EQ(fault_count(report), 0U) << told(report);
}

TEST(Folds, TwoLinesBesideAColumnMakeAGutterButNoneBesideTwo) {
  const double fold1 = 93.6625;
  for (const int lines : {2, 4}) {
    std::string drawing;
    for (int i = 0; i < 2; ++i)
      drawing += text(fold1 - 1.8, 60 + 6 * i, 14, "Open daily", "fill='#312' text-anchor='end'");
    for (int i = 0; i < lines; ++i) drawing += text(fold1 + 1.8, 60 + 6 * i, 14, "with love", "fill='#312'");
    const Report report = inspect_page(render(drawing), letter_fold_job());
    EXPECT_EQ(fault_count(report) > 0, lines == 2) << told(report);
  }
}

TEST(Folds, ColourBreakOffItsFold) {
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

TEST(Folds, BandOfAGradientNearAFoldIsNoPanel) {
  // Some renderers look gradients up in tables of 256 colours: between two bands lies a strip of both.
  const double fold1 = 93.6625;
  const auto blue = [](int level) {
    return "rgb(" + number(level) + "," + number(level + 20) + "," + number(level + 40) + ")";
  };
  std::string page;
  for (int i = 0; i < 10; ++i) {
    const double x = fold1 + 2.2 + 29.0 * (i - 4);
    page += rect(i == 0 ? -4 : x, -4, 60, 224, blue(10 + 20 * i));
    if (i > 0) page += rect(x - 0.17, -4, 0.34, 224, blue(20 * i));
  }
  const Report report = inspect_page(render(page), letter_fold_job());
  EXPECT_EQ(fault_count(report), 0U) << told(report);
}

TEST(Folds, HairlineAlongAFold) {
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

TEST(Folds, BetweenTwoLettersOfAWordPartTheWord) {
  // The gap between the two halves of the word lies on the fold; it is far narrower than a word space.
  const double fold1 = 93.6625;
  const std::string left = text(0, 60, 14, "mmm");
  const Rect ink = ink_of(left);
  const std::string word = text(fold1 - 0.15 - ink.right().mm(), 60, 14, "mmm") +
                           text(fold1 + 0.15 - ink.left().mm(), 60, 14, "mmm");
  const Report report = inspect_page(render(word), letter_fold_job());
  ASSERT_EQ(fault_count(report), 1U) << told(report);
  EXPECT_EQ(faults(report, "folds").at(0).kind, "text-across-fold");
  EXPECT_EQ(faults(report, "folds").at(0).severity, Severity::fix);
}

/// Type of a family, centred on an x.
std::string centred(double x, double y, double points, const std::string& family, const std::string& words) {
  return "<text x='" + number(x) + "' y='" + number(y) + "' text-anchor='middle' font-family='" + family +
         "' font-size='" + number(points * 25.4 / 72.0) + "'>" + words + "</text>";
}

TEST(Folds, AWordOfJoinedLettersAcrossAFold) {
  const double fold1 = 93.6625;
  const std::pair<const char*, const char*> words[] = {
      {"Lohit Devanagari", "बंदरगाह"}, {"Amiri", "منارة البحر"}, {"Lobster Two", "Marigold"}};
  for (const auto& [family, word] : words) {
    const std::string drawing = centred(fold1 + 2, 60, 30, family, word);
    const Report report = inspect_page(render(drawing), letter_fold_job());
    const auto found = faults(report, "folds");
    ASSERT_EQ(found.size(), 1U) << family << told(report);
    EXPECT_EQ(found[0].kind, "text-across-fold") << family;
    expect_box(found[0].whole, ink_of(drawing), report);
  }
}

TEST(Folds, TwoWordsOfJoinedLettersUnderOneAnother) {
  const double x = 93.6625 + 2;
  const std::string drawing =
      centred(x, 60, 20, "Lohit Devanagari", "दीपस्तंभ") + centred(x, 69, 20, "Lohit Devanagari", "दीपस्तंभ");
  const Report report = inspect_page(render(drawing), letter_fold_job());
  const auto found = faults(report, "folds");
  ASSERT_EQ(found.size(), 1U) << told(report);
  EXPECT_EQ(found[0].kind, "text-across-fold");
  expect_box(found[0].whole, ink_of(drawing), report);
}

TEST(Folds, ASmallWordOfJoinedLettersAcrossAFold) {
  // A few pixels to a stroke: where strokes meet they measure twice their width.
  const std::string drawing = centred(93.6625 + 1, 60, 8, "Lohit Devanagari", "दीपस्तंभ");
  const Report report = inspect_page(render(drawing), letter_fold_job());
  const auto found = faults(report, "folds");
  ASSERT_EQ(found.size(), 1U) << told(report);
  EXPECT_EQ(found[0].kind, "text-across-fold");
}

TEST(Folds, TypeAsTallAsTheStripesItStandsOn) {
  std::string page = rect(-4, -4, 290, 226, "#9fa3a3");
  for (int i = 0; i < 60; ++i) page += rect(-4, -4 + 3.8 * i, 290, 1.9, "#e8eef0");
  page += centred(93.6625 + 2, 61.5, 15, "Liberation Sans", "Pilot House Pilot House");
  const Report report = inspect_page(render(page), letter_fold_job());
  const auto found = faults(report, "folds");
  ASSERT_EQ(found.size(), 1U) << told(report);
  EXPECT_EQ(found[0].kind, "text-across-fold");
  EXPECT_EQ(fault_count(report), 1U) << told(report);
}

TEST(Folds, ADrawingOfEvenStrokesIsNoWord) {
  const double fold1 = 93.6625;
  const auto ring = [&](double x) {
    return "<circle cx='" + number(fold1 + x) +
           "' cy='60' r='6' fill='none' stroke='#235' stroke-width='1.6'/>";
  };
  const std::string envelope =
      "<path d='M " + number(fold1 - 9) +
      " 100 h 18 v 12 h -18 z l 9 7 l 9 -7' fill='none' stroke='#235' stroke-width='1.4'/>";
  const Report report = inspect_page(render(ring(-4) + ring(4) + envelope), letter_fold_job());
  EXPECT_EQ(fault_count(report), 0U) << told(report);
}

TEST(Folds, TypeAtAnAngleAcrossAFoldIsOneLine) {
  const double fold1 = 93.6625;
  const std::string drawing = "<g transform='rotate(-28 " + number(fold1) + " 100)'>" +
                              centred(fold1, 100, 20, "DejaVu Sans", "Evening sail 1904") + "</g>";
  const Report report = inspect_page(render(drawing), letter_fold_job());
  ASSERT_EQ(fault_count(report), 1U) << told(report);
  expect_box(faults(report, "folds").at(0).whole, ink_of(drawing), report);
}

TEST(Folds, GuideOfDotsThatCoverTheirPixelsInPart) {
  // Two whole pixels wide; along it the dots of three pixels begin and end within one, so that few pixels
  // have the mean colour of all.
  const double fold1 = 93.6625, px = 25.4 / 300, middle = std::round((fold1 + 3.175) / px) * px - 3.175;
  const std::string dots = "<path d='M " + number(middle) + " -3.2 V 219.1' stroke='#b0d8f0' stroke-width='" +
                           number(2 * px) + "' stroke-dasharray='0.25 0.656'/>";
  const Report report = inspect_page(render(rect(-4, -4, 288, 224, "#0b6e4f") + dots), letter_fold_job());
  ASSERT_EQ(fault_count(report), 1U) << told(report);
  EXPECT_EQ(faults(report, "folds").at(0).kind, "guide-on-fold") << told(report);
}

TEST(Folds, BorderOfTwoGroundsOnJpegIsNoGuide) {
  const double fold1 = 93.6625;
  for (const double off : {-0.4, -0.25, 0.0, 0.1}) {  // where the border lies in a block
    const Report report =
        inspect_page(as_jpeg(render(rect(fold1 + off, -4, 300, 224, "#f4a641")), 85), letter_fold_job());
    EXPECT_EQ(fault_count(report), 0U) << off << told(report);
  }
}

TEST(Folds, GuideOverARowOfFiguresInAnotherColour) {
  const double fold1 = 93.6625;
  std::string dots = rect(-4, -4, 288, 224, "#f6efe0");
  for (double x = fold1 - 90; x < 280; x += 3)
    for (double y = 0; y < 218; y += 3) dots += rect(x - 0.25, y - 0.8, 0.5, 1.6, "#c9bb8a");
  const Report without = inspect_page(render(dots), letter_fold_job());
  EXPECT_TRUE(faults(without, "folds").empty()) << told(without);
  const Report with =
      inspect_page(render(dots + rect(fold1 - 0.1, -4, 0.2, 224, "#d84020")), letter_fold_job());
  ASSERT_EQ(faults(with, "folds").size(), 1U) << told(with);
  EXPECT_EQ(faults(with, "folds")[0].kind, "guide-on-fold");
}

}  // namespace
}  // namespace frisket
