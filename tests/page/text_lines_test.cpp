// Letters into lines and blocks, from boxes alone.
#include "page/text/text_lines.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <ctime>
#include <random>

namespace frisket {
namespace {

const Scale scale{300 / 25.4, false};

class Letters {
 public:
  void add(double x, double y, double w, double h) {
    Element element;
    element.box_px = {x, y, w, h};
    elements.push_back(element);
  }
  /// Letters of x-height `h` on a baseline, a word space after every fifth.
  void line(double x, double baseline, double h, int count) {
    for (int i = 0; i < count; ++i) {
      const bool tall = i % 3 == 0;
      add(x, baseline - (tall ? 1.4 * h : h), 0.9 * h, tall ? 1.4 * h : h);
      x += 1.1 * h + (i % 5 == 4 ? 0.6 * h : 0.0);
    }
  }
  TextLayout find() {
    Glyphs glyphs(elements);
    return find_text(elements, glyphs, scale);
  }
  std::vector<Element> elements;
};

TEST(TextLines, KeepWordsOfALineTogetherAndLinesApart) {
  Letters page;
  page.line(100, 200, 20, 30);
  page.line(100, 250, 20, 30);
  const TextLayout text = page.find();
  ASSERT_EQ(text.lines.size(), 2U);
  EXPECT_EQ(text.lines[0].letters.size(), 30U);
  ASSERT_EQ(text.blocks.size(), 1U);
  EXPECT_EQ(text.blocks[0].lines.size(), 2U);
}

TEST(TextLines, AreNotBridgedByStopsAndDescenders) {
  Letters page;
  page.line(100, 200, 20, 30);
  page.add(400, 192, 6, 16);    // a comma that hangs below the baseline
  page.line(100, 236, 20, 30);  // set solid
  page.add(404, 196, 10, 44);   // a bracket of the next line that reaches up to it
  const TextLayout text = page.find();
  EXPECT_EQ(text.lines.size(), 2U);
}

TEST(TextLines, TakeNoBoxWithALineOfItsOwnForALetter) {
  for (const bool carries : {false, true}) {
    Letters page;
    page.line(100, 300, 100, 5);
    const PixelRect last = page.elements.back().box_px;
    const int label = static_cast<int>(page.elements.size());
    page.add(last.right() + 20, 190, 600, 110);
    if (carries) {
      page.line(last.right() + 60, 270, 30, 6);
      for (std::size_t i = static_cast<std::size_t>(label) + 1; i < page.elements.size(); ++i)
        page.elements[i].parent = label;
    }
    const TextLayout text = page.find();
    EXPECT_EQ(page.elements[static_cast<std::size_t>(label)].line < 0, carries);
    EXPECT_EQ(text.lines.size(), carries ? 2U : 1U);
  }
}

TEST(TextLines, TakeNoRuleBelowThemForALetter) {
  // Words of a joined script and a rule under them, near enough to be a stroke of the last.
  Letters page;
  page.line(100, 300, 60, 5);
  page.add(110, 315, 280, 5);
  EXPECT_EQ(page.find().lines.at(0).letters.size(), 5U);
}

TEST(TextLines, TakeNoLineThatRunsOffTheCanvasForALetter) {
  for (const double ink : {0.08, 0.35}) {
    Letters page;
    page.line(140, 200, 100, 3);
    page.add(0, 0, 130, 95);
    page.elements.back().touches_canvas = true;
    page.elements.back().ink = ink;
    EXPECT_EQ(page.find().lines.at(0).letters.size(), ink > 0.2 ? 4U : 3U);
  }
}

TEST(TextLines, TakeInALetterAWordSpaceAwayAtAnyAngle) {
  // Letter-spaced words: the last letter stands alone behind a word space of 1.1 times its height.
  for (const double angle : {0.0, 0.6, 1.2}) {
    Letters page;
    for (const int place : {0, 1, 2, 3, 5})
      page.add(400 + 50.7 * place * std::cos(angle), 300 + 50.7 * place * std::sin(angle), 36, 36);
    EXPECT_EQ(page.find().lines.at(0).letters.size(), 5U) << angle;
  }
}

TEST(TextLines, TakeNoIconFarFromTwoLettersForAThird) {
  Letters page;
  page.line(100, 400, 100, 2);
  page.add(540, 300, 110, 110);
  EXPECT_EQ(page.find().lines.at(0).letters.size(), 2U);
}

TEST(TextLines, OfFewLettersAreNotMadeOfThingsFarApartAtOtherHeights) {
  Letters page;
  page.add(100, 300, 150, 230);  // two drops of unlike size
  page.add(400, 360, 160, 250);
  page.add(100, 900, 320,
           230);  // a word, and two letters far off that a line at an angle can be laid through
  page.add(710, 940, 320, 290);
  page.add(1190, 1020, 230, 218);
  for (const TextLine& line : page.find().lines) EXPECT_LE(line.box_px.width, 720.0);
}

TEST(TextLines, OfFewSpacedLettersStandOnOneBaseline) {
  Letters page;  // N o.
  page.add(100, 300, 60, 58);
  page.add(196, 318, 38, 41);
  page.add(274, 349, 10, 10);
  const TextLayout text = page.find();
  ASSERT_EQ(text.lines.size(), 1U);
  EXPECT_EQ(text.lines[0].letters.size(), 3U);
}

TEST(TextLines, AreJoinedOverAWideWordSpaceWhereTheyAreLevel) {
  for (const bool level : {true, false}) {
    Letters page;
    const double baseline = level ? 300 : 307;
    page.line(100, 300, 20, 5);  // ends at 206
    page.add(206 + 26, baseline - 20, 18, 20);
    page.line(206 + 48, baseline, 20, 5);
    EXPECT_EQ(page.find().lines.size(), level ? 1U : 2U);
  }
}

TEST(TextLines, StopAtAColumnGutter) {
  Letters page;
  for (int i = 0; i < 5; ++i) {
    page.line(100, 200 + 50 * i, 20, 20);
    page.line(660, 200 + 50 * i, 20, 20);
  }
  const TextLayout text = page.find();
  EXPECT_EQ(text.lines.size(), 10U);
  EXPECT_EQ(text.blocks.size(), 2U);
}

TEST(TextLines, MayRunDownThePage) {
  Letters page;
  page.line(100, 200, 20, 12);
  for (Element& e : page.elements) e.box_px = {e.box_px.y, e.box_px.x, e.box_px.height, e.box_px.width};
  const TextLayout text = page.find();
  ASSERT_EQ(text.lines.size(), 1U);
  EXPECT_TRUE(text.lines[0].vertical);
}

TEST(TextLines, TakeInAccentsOverTheirLettersOnly) {
  Letters page;
  page.line(100, 200, 20, 10);
  page.add(124, 170, 8, 5);
  const TextLayout text = page.find();
  ASSERT_EQ(text.lines.size(), 1U);
  EXPECT_EQ(text.lines[0].letters.size(), 11U);
}

TEST(TextLines, RunAtAnyAngle) {
  Letters page;
  const double angle = 0.45, step = 24;  // 26 degrees
  for (int i = 0; i < 12; ++i)
    page.add(300 + step * i * std::cos(angle), 300 + step * i * std::sin(angle), 22, i % 3 == 0 ? 28 : 24);
  const TextLayout text = page.find();
  ASSERT_EQ(text.lines.size(), 1U);
  EXPECT_EQ(text.lines[0].letters.size(), 12U);
  EXPECT_FALSE(text.lines[0].vertical);
}

TEST(TextLines, FollowAnArc) {
  Letters page;
  for (int i = 0; i < 9; ++i) {
    const double bearing = -2.6 + 0.25 * i;  // radians; letters 25 px apart on a circle of 100 px
    page.add(500 + 100 * std::cos(bearing), 500 + 100 * std::sin(bearing), 20, 20);
  }
  const TextLayout text = page.find();
  ASSERT_EQ(text.lines.size(), 1U);
  EXPECT_EQ(text.lines[0].letters.size(), 9U);
}

TEST(TextLines, OnAnArcKeepTheirTop) {
  Letters page;  // the letters at the top would pass for a level line, the others for what is left over
  for (int i = 0; i < 11; ++i) {
    const double bearing = -2.8 + 0.25 * i;
    page.add(500 + 150 * std::cos(bearing), 500 + 150 * std::sin(bearing), 20, 20);
  }
  const TextLayout text = page.find();
  ASSERT_EQ(text.lines.size(), 1U);
  EXPECT_EQ(text.lines[0].letters.size(), 11U);
}

TEST(TextLines, OnAnArcHaveWordSpacesAndDots) {
  Letters page;  // 12 px apart, their size is 8
  for (int i = 0; i < 11; ++i) {
    const double bearing = -2.8 + 0.24 * i;
    const double x = 500 + 52 * std::cos(bearing), y = 500 + 52 * std::sin(bearing);
    if (i != 4) page.add(x, y, 8, 8);
    if (i % 4 == 1) page.add(x + 9 * std::cos(bearing), y + 9 * std::sin(bearing), 3.4, 3.4);
  }
  const TextLayout text = page.find();
  ASSERT_EQ(text.lines.size(), 1U);
  EXPECT_EQ(text.lines[0].letters.size(), 13U);
}

TEST(TextLines, OnAnArcAreNotMadeOfABlockAndWhatLiesBeside) {
  Letters page;  // all within a letter's size of one circle, but not on it
  for (int i = 0; i < 9; ++i) {
    const double bearing = -2.6 + 0.25 * i, radius = i % 2 == 0 ? 105 : 95;
    page.add(500 + radius * std::cos(bearing), 500 + radius * std::sin(bearing), 20, 20);
  }
  for (const TextLine& line : page.find().lines) EXPECT_LT(line.letters.size(), 9U);
}

TEST(TextLines, AreNotMadeOfARingOfStars) {
  Letters page;
  for (int i = 0; i < 12; ++i) {
    const double bearing = 0.5236 * i;
    page.add(500 + 100 * std::cos(bearing), 500 + 100 * std::sin(bearing), 14, 14);
  }
  EXPECT_TRUE(page.find().lines.empty());
}

TEST(TextLines, OfSpacedLettersHaveWiderWordSpaces) {
  Letters page;
  for (int i = 0; i < 8; ++i) page.add(100 + 36 * i + (i > 4 ? 30 : 0), 200, 18, 20);
  const TextLayout text = page.find();
  ASSERT_EQ(text.lines.size(), 1U);
  EXPECT_EQ(text.lines[0].words, (std::vector<int>{0, 5}));
}

TEST(TextLines, AreNotReadAcrossTheColumnsOfATurnedBlock) {
  Letters page;
  for (int i = 0; i < 4; ++i) page.line(100, 200 + 34 * i, 20, 14);
  for (Element& e : page.elements) e.box_px = {e.box_px.y, e.box_px.x, e.box_px.height, e.box_px.width};
  const TextLayout text = page.find();
  ASSERT_EQ(text.lines.size(), 4U);
  EXPECT_TRUE(text.lines[0].vertical);
  EXPECT_EQ(text.blocks.size(), 1U);
}

TEST(TextLines, DoNotRunDownAColumnOfPicturesWithCaptions) {
  Letters page;
  for (int i = 0; i < 6; ++i) {
    page.add(100, 100 + 260 * i, 180, 160 + 20 * (i % 3));
    page.line(110, 335 + 260 * i, 15, 10);
  }
  for (const TextLine& line : page.find().lines) EXPECT_FALSE(line.vertical);
}

TEST(TextLines, RunDownLargeLettersWithSpecksInTheirCounters) {
  Letters page;
  for (const double top : {100.0, 430.0}) {
    page.add(100, top, 300, 300);
    for (int i = 0; i < 6; ++i) page.add(140 + 37 * i, top + 60 + 97 * (i % 3), 17, 17);
  }
  const TextLayout text = page.find();
  ASSERT_EQ(text.lines.size(), 1U);
  EXPECT_TRUE(text.lines[0].vertical);
  EXPECT_GE(text.lines[0].letters.size(), 2U);
}

TEST(TextLines, DoNotRunDownAColumnOfWords) {
  Letters page;  // of a joined script: each word is one element
  for (int i = 0; i < 6; ++i) {
    page.add(100, 200 + 36 * i, 60, 22);
    page.add(168, 200 + 36 * i, 75, 22);
  }
  const TextLayout text = page.find();
  ASSERT_EQ(text.lines.size(), 6U);
  EXPECT_FALSE(text.lines[0].vertical);
}

TEST(TextLines, TakeAHundredThousandSpecksInTheirStride) {
  Letters page;
  std::mt19937 random(7);
  for (int i = 0; i < 100000; ++i)
    page.add(static_cast<double>(random() % 5000), static_cast<double>(random() % 7000), 3, 3);
  const std::clock_t began = std::clock();  // of this process: others on the machine do not count
  page.find();
  EXPECT_LT(std::clock() - began, 30 * CLOCKS_PER_SEC);
}

TEST(TextLines, AreNotMadeOfPicturesOrLoneThings) {
  Letters page;
  page.add(100, 100, 60, 60);
  page.add(400, 400, 60, 60);
  EXPECT_TRUE(page.find().lines.empty());
  EXPECT_TRUE(Letters().find().lines.empty());
}

}  // namespace
}  // namespace frisket
