#include "frisket/sizes.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <fstream>
#include <sstream>

namespace frisket {
namespace {

using namespace literals;

Size mm(double width, double height) { return {Length::from_mm(width), Length::from_mm(height)}; }
Size inches(double width, double height) { return {Length::from_inches(width), Length::from_inches(height)}; }

void expect_size(std::string_view name, const Size& expected) {
  const auto found = find_named_size(name);
  ASSERT_TRUE(found) << name;
  EXPECT_NEAR(found->width.mm(), expected.width.mm(), 1e-9) << name;
  EXPECT_NEAR(found->height.mm(), expected.height.mm(), 1e-9) << name;
}

struct Series {
  const char *letters, *source;
  std::vector<std::pair<int, int>> sizes;  // mm, from number 0
};

// The published tables themselves, not the halving rule the code uses. All confirmed (C).
const std::array published_series{
    Series{"A",
           "ISO 216",
           {{841, 1189},
            {594, 841},
            {420, 594},
            {297, 420},
            {210, 297},
            {148, 210},
            {105, 148},
            {74, 105},
            {52, 74},
            {37, 52},
            {26, 37}}},
    Series{"B",
           "ISO 216",
           {{1000, 1414},
            {707, 1000},
            {500, 707},
            {353, 500},
            {250, 353},
            {176, 250},
            {125, 176},
            {88, 125},
            {62, 88},
            {44, 62},
            {31, 44}}},
    Series{"C",
           "ISO 269",
           {{917, 1297},
            {648, 917},
            {458, 648},
            {324, 458},
            {229, 324},
            {162, 229},
            {114, 162},
            {81, 114},
            {57, 81},
            {40, 57},
            {28, 40}}},
    Series{"JIS B",
           "JIS P 0138",
           {{1030, 1456},
            {728, 1030},
            {515, 728},
            {364, 515},
            {257, 364},
            {182, 257},
            {128, 182},
            {91, 128},
            {64, 91},
            {45, 64},
            {32, 45}}},
    Series{"RA", "ISO 217", {{860, 1220}, {610, 860}, {430, 610}, {305, 430}, {215, 305}}},
    Series{"SRA", "ISO 217", {{900, 1280}, {640, 900}, {450, 640}, {320, 450}, {225, 320}}}};

TEST(NamedSizes, AgreeWithThePublishedSeries) {
  for (const Series& series : published_series)
    for (std::size_t number = 0; number < series.sizes.size(); ++number)
      expect_size(series.letters + std::to_string(number),
                  mm(series.sizes[number].first, series.sizes[number].second));
}

// ISO 216 rounds by halving. Rounding its formula, 1000 x 2^(1/4 - n/2) mm for the long side of An, is
// another rule: the long side of A2 is 594.604 mm there and would round to 595 (computed, C). The standard's
// table is taken.
TEST(NamedSizes, AreHalvedAndNotRoundedFromTheFormula) {
  const double a2 = 1000 * std::pow(2.0, 1 / 4.0 - 2 / 2.0);
  EXPECT_NEAR(a2, 594.604, 0.001);
  EXPECT_NEAR(find_named_size("A2")->height.mm(), 594, 1e-9);
  for (const Series& series : published_series)
    for (std::size_t number = 1; number < series.sizes.size(); ++number) {
      const auto [width, height] = series.sizes[number - 1];
      EXPECT_EQ(series.sizes[number], (std::pair{height / 2, width})) << series.letters << number;
    }
}

struct PointRow {
  const char* name;
  double width, height;
};

// A point is 1/72 in (ISO 32000-1, default user space; computed, C).
TEST(NamedSizes, HaveThePublishedPoints) {
  for (const PointRow& row :
       {PointRow{"A4", 595.276, 841.890}, PointRow{"letter", 612, 792}, PointRow{"legal", 612, 1008}}) {
    EXPECT_NEAR(find_named_size(row.name)->width.points(), row.width, 0.0005) << row.name;
    EXPECT_NEAR(find_named_size(row.name)->height.points(), row.height, 0.0005) << row.name;
  }
}

// A card of ID-1 is given as 3.370 x 2.125 in as well; the standard says not to mix the two, and 2.125 in
// would be 53.975 mm (ISO/IEC 7810, note). The millimetres are taken.
TEST(NamedSizes, OfACardAreItsMillimetres) {
  EXPECT_NEAR(find_named_size("ID-1 landscape")->width.inches(), 3.370, 0.0005);
  EXPECT_NEAR(find_named_size("ID-1 landscape")->height.inches(), 2.125, 0.0005);
  EXPECT_NE(find_named_size("ID-1 landscape")->height, 2.125_in);
}

struct SizeRow {
  const char* name;
  Size size;
  const char* source;
};

// All confirmed (C) in the source named beside each.
TEST(NamedSizes, AgreeWithPublishedSingleSizes) {
  const std::array rows{SizeRow{"DL", mm(110, 220), "ISO 269"},
                        SizeRow{"C6/C5", mm(114, 229), "PWG 5101.1"},
                        SizeRow{"1/3 A4", mm(99, 210), "GOST 5773, table 2"},
                        SizeRow{"ID-1", mm(53.98, 85.60), "ISO/IEC 7810"},
                        SizeRow{"ID-2", mm(74, 105), "ISO/IEC 7810"},
                        SizeRow{"ID-3", mm(88, 125), "ISO/IEC 7810"},
                        SizeRow{"ID-000", mm(15, 25), "ISO/IEC 7810"},
                        SizeRow{"ANSI A", inches(8.5, 11), "ASME Y14.1"},
                        SizeRow{"ANSI B", inches(11, 17), "ASME Y14.1"},
                        SizeRow{"ANSI C", inches(17, 22), "ASME Y14.1"},
                        SizeRow{"ANSI D", inches(22, 34), "ASME Y14.1"},
                        SizeRow{"ANSI E", inches(34, 44), "ASME Y14.1"},
                        SizeRow{"ANSI F", inches(28, 40), "ASME Y14.1"},
                        SizeRow{"Arch A", inches(9, 12), "PWG 5101.1"},
                        SizeRow{"Arch B", inches(12, 18), "PWG 5101.1"},
                        SizeRow{"Arch C", inches(18, 24), "PWG 5101.1"},
                        SizeRow{"Arch D", inches(24, 36), "PWG 5101.1"},
                        SizeRow{"Arch E", inches(36, 48), "PWG 5101.1"},
                        SizeRow{"letter", inches(8.5, 11), "PWG 5101.1"},
                        SizeRow{"legal", inches(8.5, 14), "PWG 5101.1"},
                        SizeRow{"tabloid", inches(11, 17), "PWG 5101.1"},
                        SizeRow{"executive", inches(7.25, 10.5), "PWG 5101.1"},
                        SizeRow{"statement", inches(5.5, 8.5), "PWG 5101.1"},
                        SizeRow{"envelope #10", inches(4.125, 9.5), "PWG 5101.1"},
                        SizeRow{"envelope monarch", inches(3.875, 7.5), "PWG 5101.1"},
                        SizeRow{"envelope A2", inches(4.375, 5.75), "PWG 5101.1"},
                        SizeRow{"business card US", inches(2, 3.5), "PWG 5101.1"},
                        SizeRow{"business card EU", mm(55, 85), "PWG 5101.1"},
                        SizeRow{"business card JP", mm(55, 91), "PWG 5101.1"},
                        SizeRow{"hagaki", mm(100, 148), "PWG 5101.1"}};
  for (const SizeRow& row : rows) expect_size(row.name, row.size);
}

// fixtures/tables/pwg-5101.1-media-sizes.csv: names and sizes as a free printing system's sources list
// them, separate from the names in them.
TEST(NamedSizes, KnowEveryPwgName) {
  std::ifstream table(FRISKET_SOURCE_DIR "/fixtures/tables/pwg-5101.1-media-sizes.csv");
  std::string line, name, width, height, unit;
  std::getline(table, line);
  int rows = 0;
  for (; std::getline(table, line); ++rows) {
    std::istringstream cells(line);
    std::getline(cells, name, ','), std::getline(cells, width, ','), std::getline(cells, height, ',');
    std::getline(cells, unit);
    const auto size = unit == "IN" ? inches : mm;
    expect_size(name, size(std::stod(width), std::stod(height)));
  }
  EXPECT_EQ(rows, 219);
}

TEST(NamedSizes, DoNotMindHowTheyAreWritten) {
  for (const char* name : {"a4", "A4", "A4 portrait", "ISO_A4_210x297mm", " a4 ", "A4 Portrait"})
    expect_size(name, mm(210, 297));
  for (const char* name : {"jis b5", "JIS-B5", "JISB5"}) expect_size(name, mm(182, 257));
  expect_size("A4 landscape", mm(297, 210));
  expect_size("letter LANDSCAPE", inches(11, 8.5));
  expect_size("na_letter_8.5x11in landscape", inches(11, 8.5));
}

TEST(NamedSizes, AreNotGuessed) {
  for (const char* name : {"", "landscape", " landscape", "A11", "A", "4", "A44", "letterlandscape",
                           "iso_a4_210x298mm", "A4 sideways", "210x297"})
    EXPECT_FALSE(find_named_size(name)) << name;
}

TEST(MatchNamedSizes, FindsUprightAndTurned) {
  const auto upright = match_named_sizes(mm(210.2, 296.9), 0.5_mm);
  ASSERT_FALSE(upright.empty());
  EXPECT_EQ(upright.front().named.name, "A4");
  EXPECT_FALSE(upright.front().turned);
  const auto turned = match_named_sizes(inches(11, 8.5), 0.5_mm);
  ASSERT_FALSE(turned.empty());
  EXPECT_EQ(turned.front().named.name, "letter");
  EXPECT_EQ(turned.front().named.source, "ASME Y14.1");
  EXPECT_TRUE(turned.front().turned);
}

TEST(MatchNamedSizes, PutsTheNearestFirstAndTheFamiliarNameBeforeThePwgOne) {
  const auto cards = match_named_sizes(mm(54, 85.7), 1.2_mm);
  ASSERT_GE(cards.size(), 3u);
  EXPECT_EQ(cards[0].named.name, "ID-1");
  EXPECT_EQ(cards[1].named.name, "om_card_54x86mm");
  EXPECT_EQ(cards[2].named.name, "business card EU");
  // A7 and ID-2 are one size; its PWG name adds nothing.
  const auto a7 = match_named_sizes(mm(74, 105), 0.1_mm);
  ASSERT_EQ(a7.size(), 2u);
  EXPECT_EQ(a7[0].named.name, "A7");
  EXPECT_EQ(a7[1].named.name, "ID-2");
}

TEST(MatchNamedSizes, TakesTheToleranceOnBothAxes) {
  EXPECT_FALSE(match_named_sizes(mm(210.5, 297), 0.5_mm).empty());
  EXPECT_TRUE(match_named_sizes(mm(210.6, 297), 0.5_mm).empty());
  EXPECT_TRUE(match_named_sizes(mm(210, 290), 0.5_mm).empty());
  EXPECT_TRUE(match_named_sizes({}, 0.5_mm).empty());
}

}  // namespace
}  // namespace frisket
