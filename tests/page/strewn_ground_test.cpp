// What is strewn over the page and runs off it is a ground; type, marks and a row set too far out are none.
#include "page/elements/strewn_ground.hpp"

#include <gtest/gtest.h>

#include <random>

namespace frisket {
namespace {

const PixelRect trim{35, 35, 1750, 1240};  // A6 at 300 dpi with 3 mm of bleed
const cv::Vec3f coral(220, 110, 90), teal(40, 130, 130), navy(20, 30, 80);

struct Things {
  std::vector<Element> elements;
  std::vector<cv::Vec3f> colours;
  std::vector<TextLine> lines;
  std::vector<Surface> grounds;

  int add(const PixelRect& box, const cv::Vec3f& colour) {
    Element element;
    element.box_px = box;
    elements.push_back(element);
    colours.push_back(colour);
    return static_cast<int>(elements.size()) - 1;
  }

  std::vector<int> strewn() { return mark_strewn(elements, colours, lines, grounds, trim); }
};

/// Chips of two colours, 15 to 40 px, all over trim and bleed.
Things confetti(int count) {
  Things things;
  std::mt19937 chance(11);
  std::uniform_real_distribution<double> x(0, 1780), y(0, 1270), side(15, 40);
  for (int i = 0; i < count; ++i)
    things.add({x(chance), y(chance), side(chance), side(chance)}, i % 2 ? coral : teal);
  return things;
}

/// A word of letters 60 px high at the bottom trim, of which the last stands a little lower.
TextLine word(Things& things, const cv::Vec3f& colour, int letters) {
  TextLine line;
  for (int i = 0; i < letters; ++i)
    line.letters.push_back(
        things.add({300.0 + 50 * i, 1225.0 + (i + 1 == letters ? 12 : 0), 38, 60}, colour));
  return line;
}

TEST(StrewnGround, IsAllThatIsStrewn) {
  Things things = confetti(200);
  EXPECT_EQ(things.strewn().size(), 200U);
  EXPECT_TRUE(things.elements.front().repeats);
}

TEST(StrewnGround, TakesNeitherWhatIsLargerNorWhatHasAnotherColour) {
  Things things = confetti(200);
  const int logo = things.add({60, 60, 200, 180}, coral), mark = things.add({1700, 60, 30, 30}, navy);
  EXPECT_EQ(things.strewn().size(), 200U);
  EXPECT_FALSE(things.elements[static_cast<std::size_t>(logo)].repeats);
  EXPECT_FALSE(things.elements[static_cast<std::size_t>(mark)].repeats);
}

TEST(StrewnGround, SparesALineOfTypeOfItsOwnColour) {
  Things things = confetti(200);
  things.lines.push_back(word(things, coral, 6));
  things.colours.back() = 0.5 * (coral + cv::Vec3f::all(255));  // of thin strokes the colour wavers
  EXPECT_EQ(things.strewn().size(), 200U);
  for (int letter = 200; letter < 206; ++letter)
    EXPECT_FALSE(things.elements[static_cast<std::size_t>(letter)].repeats) << letter;
}

TEST(StrewnGround, TakesChipsThatPassForALine) {
  Things things = confetti(200);
  TextLine chance;
  for (int i = 0; i < 5; ++i)
    chance.letters.push_back(things.add({300.0 + 50 * i, 1000.0 + 17 * (i % 3), 30, 40}, coral));
  things.lines.push_back(chance);
  EXPECT_EQ(things.strewn().size(), 205U);
}

TEST(StrewnGround, ChipsAtTheCanvasEdgeCountThatAreGroundsOfTheirOwn) {
  Things things;
  for (const double y : {1260.0, 900.0})
    things.add({1770, y, 40, 30}, coral), things.add({300, y, 40, 30}, coral);
  things.add({600, 1262, 40, 30}, coral);
  EXPECT_TRUE(things.strewn().empty());
  for (const int x : {100, 700, 1300}) {
    Surface chip;
    chip.box = {x, 0, 40, 50};
    chip.colour = coral;
    chip.bleeds = true;
    things.grounds.push_back(chip);
  }
  EXPECT_EQ(things.strewn().size(), 5U);
}

TEST(StrewnGround, IsNoRowAtOneEdge) {
  Things things;
  for (int i = 0; i < 12; ++i) things.add({100.0 + 130 * i, 1250, 40, 60}, teal);
  EXPECT_TRUE(things.strewn().empty());
}

TEST(StrewnGround, IsNotMadeByLettersOrCropMarks) {
  Things things;
  things.lines.push_back(word(things, navy, 8));
  for (const double x : {35.0, 1785.0})
    for (const double y : {0.0, 1285.0}) things.add({x, y, 2, 24}, navy), things.add({x, y, 24, 2}, navy);
  EXPECT_TRUE(things.strewn().empty());
}

}  // namespace
}  // namespace frisket
