#include "frisket/units.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <limits>
#include <random>

#include "frisket/error.hpp"

namespace frisket {
namespace {

using testing::HasSubstr;
using testing::ThrowsMessage;
using namespace literals;

constexpr std::array all_units{Unit::millimetre, Unit::centimetre, Unit::inch, Unit::point};

// International yard and pound agreement, 1959: 1 in = 25.4 mm.
// ISO 32000-1, 8.3.2.3: 1 pt = 1/72 in. A4 and letter in points from the same default user space.
TEST(Units, AgreeWithPublishedConversions) {
  EXPECT_DOUBLE_EQ((1.0_in).mm(), 25.4);
  EXPECT_DOUBLE_EQ((72.0_pt).inches(), 1.0);
  EXPECT_NEAR((1.0_pt).mm(), 0.352778, 5e-7);
  EXPECT_NEAR((210_mm).points(), 595.276, 5e-4);
  EXPECT_NEAR((297_mm).points(), 841.890, 5e-4);
  EXPECT_DOUBLE_EQ((8.5_in).points(), 612.0);
  EXPECT_DOUBLE_EQ((11_in).points(), 792.0);
}

struct PixelRow {
  Length length;
  double dpi, pixels;
};

// Computed from ISO 216 and ISO/IEC 7810 sizes, 25.4 mm to the inch; letter is 8.5 x 11 in.
TEST(Units, CountPixels) {
  const std::array rows{
      PixelRow{210_mm, 300, 2480.31},   PixelRow{297_mm, 300, 3507.87},   PixelRow{216_mm, 300, 2551.18},
      PixelRow{303_mm, 300, 3578.74},   PixelRow{148_mm, 300, 1748.03},   PixelRow{154_mm, 300, 1818.90},
      PixelRow{99_mm, 300, 1169.29},    PixelRow{105_mm, 300, 1240.16},   PixelRow{420_mm, 300, 4960.63},
      PixelRow{426_mm, 300, 5031.50},   PixelRow{85.60_mm, 300, 1011.02}, PixelRow{53.98_mm, 300, 637.56},
      PixelRow{91.60_mm, 300, 1081.89}, PixelRow{59.98_mm, 300, 708.43},  PixelRow{8.5_in, 300, 2550},
      PixelRow{11.25_in, 300, 3375},    PixelRow{210_mm, 150, 1240.16},   PixelRow{297_mm, 150, 1753.94}};
  for (const PixelRow& row : rows) EXPECT_NEAR(row.length.pixels(row.dpi), row.pixels, 0.005);
}

TEST(Units, ConvertThereAndBack) {
  std::mt19937 random(20240601);
  std::uniform_real_distribution<double> values(-5000.0, 5000.0);
  for (int i = 0; i < 10000; ++i) {
    const double value = values(random);
    for (const Unit unit : all_units)
      EXPECT_NEAR(in_unit(make_length(value, unit), unit), value, 1e-9) << unit_name(unit);
  }
}

TEST(Units, NamesReadBack) {
  for (const Unit unit : all_units) EXPECT_EQ(parse_unit(unit_name(unit)), unit);
  EXPECT_THAT([] { parse_unit("ft"); },
              ThrowsMessage<Error>(HasSubstr("'ft' is not a unit; use mm, cm, in")));
  EXPECT_THROW(parse_unit(""), Error);
}

TEST(ParseLength, ReadsEveryUnit) {
  EXPECT_EQ(parse_length("11in", Unit::millimetre), 11_in);
  EXPECT_EQ(parse_length("279.4 mm", Unit::inch), 279.4_mm);
  EXPECT_EQ(parse_length("9pt", Unit::millimetre), 9_pt);
  EXPECT_NEAR(parse_length("27.94cm", Unit::millimetre).mm(), 279.4, 1e-12);
  EXPECT_EQ(parse_length(" .125 in ", Unit::millimetre), 0.125_in);
  EXPECT_EQ(parse_length("1e1mm", Unit::inch), 10_mm);
}

TEST(ParseLength, GivesABareNumberTheUnitAskedFor) {
  EXPECT_EQ(parse_length("3", Unit::millimetre), 3_mm);
  EXPECT_EQ(parse_length("3", Unit::inch), 3_in);
  EXPECT_EQ(parse_length("-3", Unit::millimetre), -3_mm);
}

TEST(ParseLength, RefusesWhatIsNoLength) {
  for (const char* text :
       {"",       " ",      "in",   "nan",   "inf", "-inf", "nanmm", "infin", "1e400", "1e308in", "11x",
        "11 i n", "11inch", "0x10", "1,5mm", "--3", "3 3",  "3mm3",  "11\"",  "\n3",   "3mm\n"})
    EXPECT_THAT([&] { parse_length(text, Unit::millimetre); },
                ThrowsMessage<Error>(
                    HasSubstr(std::string("'").append(text).append("' is not a length; write it like"))))
        << text;
  EXPECT_THROW(parse_length({}, Unit::millimetre), Error);
  EXPECT_THROW(parse_length(std::string_view("3\0mm", 4), Unit::millimetre), Error);
}

TEST(ToText, IsForPeople) {
  EXPECT_EQ(to_text(0.0701_in, Unit::inch), "0.07 in");
  EXPECT_EQ(to_text(215.9_mm, Unit::millimetre), "215.9 mm");
  EXPECT_EQ(to_text(4.31_pt, Unit::point), "4.3 pt");
  EXPECT_EQ(to_text(215.9_mm, Unit::centimetre), "21.59 cm");
  EXPECT_EQ(to_text(11_in, Unit::inch), "11.0 in");
  EXPECT_EQ(to_text(99.999_mm, Unit::millimetre), "100.0 mm");
}

TEST(ToText, NeverSaysMinusNothing) {
  EXPECT_EQ(to_text(-0.001_mm, Unit::millimetre), "0.0 mm");
  EXPECT_EQ(to_text(-0.01_pt, Unit::point), "0.0 pt");
  EXPECT_EQ(to_text(-0.01_mm, Unit::millimetre), "-0.01 mm");
  EXPECT_EQ(to_exact_text(-0.00001_mm, Unit::millimetre), "0 mm");
}

TEST(ToText, TakesTheLargestLength) {
  const Length largest = Length::from_mm(std::numeric_limits<double>::max());
  EXPECT_EQ(to_text(largest, Unit::millimetre).size(), 309 + std::string_view(".0 mm").size());
  EXPECT_EQ(to_exact_text(largest, Unit::millimetre).substr(0, 4), "1797");
}

TEST(ToExactText, KeepsThirtySecondsOfAnInch) {
  EXPECT_EQ(to_exact_text(3.6875_in, Unit::inch), "3.6875 in");
  EXPECT_EQ(to_exact_text(4.21875_in, Unit::inch), "4.21875 in");
  EXPECT_EQ(to_exact_text(11_in, Unit::inch), "11 in");
  EXPECT_EQ(to_exact_text(100_mm, Unit::millimetre), "100 mm");
  EXPECT_EQ(to_exact_text(0_mm, Unit::point), "0 pt");
  EXPECT_EQ(to_exact_text(93.6625_mm, Unit::centimetre), "9.36625 cm");
  EXPECT_EQ(to_exact_text(148_mm - 3_mm - 2.38125_mm, Unit::millimetre), "142.6188 mm");
  EXPECT_EQ(to_exact_text(405.02_mm - 3_mm - (257.02_mm + 2.38125_mm), Unit::millimetre), "142.6188 mm");
}

TEST(ToInchFraction, IsWhatAFoldingRuleShows) {
  EXPECT_EQ(to_inch_fraction(3.6875_in), "3 11/16");
  EXPECT_EQ(to_inch_fraction(4.21875_in), "4 7/32");
  EXPECT_EQ(to_inch_fraction(0.125_in), "1/8");
  EXPECT_EQ(to_inch_fraction(11_in), "11");
  EXPECT_EQ(to_inch_fraction(Length()), "0");
  EXPECT_EQ(to_inch_fraction(0.999999_in), "1");
  EXPECT_EQ(to_inch_fraction(3_mm), std::nullopt);
  EXPECT_EQ(to_inch_fraction(0.0156_in), std::nullopt);
  EXPECT_EQ(to_inch_fraction(-0.125_in), std::nullopt);
}

}  // namespace
}  // namespace frisket
