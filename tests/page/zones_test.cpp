// Zones: the labelling against scikit-image, steps and ramps on drawn colours.
#include "page/zones/zones.hpp"

#include <gtest/gtest.h>

#include <random>

namespace frisket {
namespace {

constexpr int columns = 16, rows = 12;

// Levels from numpy.random.default_rng(20).integers(0, 3, (12, 16)); labels from scikit-image 0.19.3,
// skimage.measure.label(levels, background=-1, connectivity=1), numbered in raster order of first pixels.
constexpr int levels[columns * rows] = {
    2, 0, 0, 1, 2, 0, 0, 1, 0, 1, 1, 0, 0, 0, 1, 2, 2, 2, 2, 1, 1, 1, 1, 0, 2, 0, 1, 0, 0, 0, 1, 2,
    2, 2, 2, 0, 2, 0, 1, 0, 0, 1, 0, 1, 2, 1, 2, 0, 1, 2, 0, 1, 1, 1, 1, 0, 2, 2, 0, 0, 0, 0, 1, 1,
    0, 0, 0, 1, 2, 2, 0, 2, 1, 2, 0, 0, 0, 2, 1, 0, 1, 1, 1, 0, 0, 2, 1, 0, 2, 1, 1, 1, 1, 2, 2, 0,
    1, 2, 2, 0, 0, 1, 2, 0, 0, 0, 0, 0, 2, 0, 2, 1, 0, 0, 2, 2, 0, 0, 1, 1, 1, 1, 0, 1, 1, 2, 1, 2,
    2, 1, 1, 0, 2, 0, 1, 1, 1, 0, 1, 1, 1, 0, 1, 0, 0, 1, 1, 1, 1, 2, 2, 1, 2, 1, 2, 1, 2, 2, 1, 1,
    0, 0, 2, 1, 2, 2, 0, 1, 1, 2, 0, 1, 0, 0, 0, 1, 1, 1, 2, 2, 1, 0, 1, 2, 0, 1, 1, 0, 0, 2, 2, 2};
constexpr int labels[columns * rows] = {
    0,  1,  1,  2,  3,  4,  4,  5,  6,  7,  7,  8,  8,  8,  9,  10, 0,  0,  0,  2,  2,  2,  2,  11,
    12, 13, 7,  8,  8,  8,  9,  10, 0,  0,  0,  14, 15, 16, 2,  11, 11, 17, 18, 19, 20, 21, 22, 23,
    24, 0,  25, 2,  2,  2,  2,  11, 26, 26, 18, 18, 18, 18, 27, 27, 25, 25, 25, 2,  28, 28, 29, 30,
    31, 26, 18, 18, 18, 32, 27, 33, 34, 34, 34, 35, 35, 28, 36, 37, 38, 39, 39, 39, 39, 32, 32, 33,
    34, 40, 40, 35, 35, 41, 42, 37, 37, 37, 37, 37, 43, 44, 32, 45, 46, 46, 40, 40, 35, 35, 47, 47,
    47, 47, 37, 48, 48, 49, 50, 51, 52, 53, 53, 54, 55, 35, 47, 47, 47, 56, 48, 48, 48, 57, 50, 58,
    59, 53, 53, 53, 53, 60, 60, 47, 61, 62, 63, 48, 64, 64, 50, 50, 59, 59, 65, 53, 60, 60, 66, 47,
    47, 67, 68, 48, 69, 69, 69, 50, 70, 70, 65, 65, 71, 72, 73, 74, 75, 76, 76, 69, 69, 77, 77, 77};

TEST(Zones, AreThoseOfScikitImage) {
  cv::Mat3b image(rows, columns);
  for (int i = 0; i < columns * rows; ++i)
    image(i / columns, i % columns) = cv::Vec3b::all(static_cast<std::uint8_t>(80 * levels[i]));
  const ZoneMap map = label_zones(image, {0, 0});
  ASSERT_EQ(map.zones.size(), 78U);
  for (int i = 0; i < columns * rows; ++i) EXPECT_EQ(map.label(i / columns, i % columns), labels[i]) << i;
  std::int64_t area = 0;
  for (const Zone& zone : map.zones) area += zone.area;
  EXPECT_EQ(area, columns * rows);
}

cv::Mat3b one_row(const std::vector<int>& greys) {
  cv::Mat3b image(1, static_cast<int>(greys.size()));
  for (std::size_t i = 0; i < greys.size(); ++i)
    image(0, static_cast<int>(i)) = cv::Vec3b::all(static_cast<std::uint8_t>(greys[i]));
  return image;
}

TEST(Zones, JoinSmallStepsOnly) {
  EXPECT_EQ(label_zones(one_row({100, 102, 104, 106}), {2, 0}).zones.size(), 1U);
  EXPECT_EQ(label_zones(one_row({100, 102, 105, 107}), {2, 0}).zones.size(), 2U);
}

TEST(Zones, JoinASteepRampButNotTheEdgeOfALetter) {
  const ZoneMap ramp = label_zones(one_row({100, 108, 116, 124, 132, 140}), {2, 12});
  EXPECT_EQ(ramp.label(0, 1), ramp.label(0, 4)) << "inside, where it goes on as before";
  const ZoneMap edge = label_zones(one_row({255, 255, 249, 243, 243}), {2, 12});
  EXPECT_NE(edge.label(0, 0), edge.label(0, 4));
}

TEST(Zones, KnowTheirBoxColourAndContact) {
  cv::Mat3b image(10, 12, cv::Vec3b::all(255));
  image(cv::Rect(3, 2, 4, 8)) = cv::Vec3b(200, 100, 50);
  const ZoneMap map = label_zones(image, {0, 0});
  ASSERT_EQ(map.zones.size(), 2U);
  const Zone& zone = map.zones[map.label(5, 5)];
  EXPECT_EQ(zone.area, 32);
  EXPECT_EQ(zone.box, cv::Rect(3, 2, 4, 8));
  EXPECT_EQ(zone.colour, cv::Vec3f(200, 100, 50));
  EXPECT_EQ(zone.canvas_contact, 4) << "its last row lies on the canvas edge";
}

/// The same rule, pixel by pixel and by flood fill: slow and plain.
class PlainZones {
 public:
  PlainZones(const cv::Mat3b& image, ZoneRule rule) : image_(image), rule_(rule), label_(image.size(), -1) {}

  cv::Mat1i run() {
    int next = 0;
    for (int y = 0; y < image_.rows; ++y)
      for (int x = 0; x < image_.cols; ++x)
        if (label_(y, x) < 0) fill({x, y}, next++);
    return label_;
  }

 private:
  void fill(cv::Point seed, int number) {
    std::vector<cv::Point> open{seed};
    label_(seed) = number;
    while (!open.empty()) {
      const cv::Point at = open.back();
      open.pop_back();
      for (const cv::Point way : {cv::Point(1, 0), cv::Point(-1, 0), cv::Point(0, 1), cv::Point(0, -1)})
        if (const cv::Point next = at + way; contains(next) && label_(next) < 0 && joined(at, way))
          label_(next) = number, open.push_back(next);
    }
  }
  bool contains(cv::Point at) const { return cv::Rect({}, image_.size()).contains(at); }
  bool joined(cv::Point a, cv::Point way) const {
    const cv::Point b = a + way, before = a - way, after = b + way;
    const int step = colour_step(image_(a), image_(b));
    if (step == 0) return true;
    const cv::Point across(way.y, way.x);
    if (rule_.border_step > 0 && is_border(a, across) && is_border(b, across)) return false;
    if (step <= rule_.step) return true;
    return step <= rule_.ramp_step && contains(before) && contains(after) && steady(before, a, b) &&
           steady(a, b, after);
  }
  bool is_border(cv::Point at, cv::Point across) const {
    const cv::Point before = contains(at - across) ? at - across : at,
                    after = contains(at + across) ? at + across : at;
    return colour_step(image_(before), image_(after)) > rule_.border_step;
  }
  bool steady(cv::Point a, cv::Point b, cv::Point c) const {
    for (int i = 0; i < 3; ++i)
      if (std::abs(image_(a)[i] - 2 * image_(b)[i] + image_(c)[i]) > 2) return false;
    return true;
  }

  const cv::Mat3b& image_;
  ZoneRule rule_;
  cv::Mat1i label_;
};

/// Flat parts, ramps and noise, wide enough for several blocks of a row, tall enough for zones to end, for
/// their numbers to be used again and for several bands.
cv::Mat3b random_page(std::mt19937& random) {
  cv::Mat3b page(150 + static_cast<int>(random() % 600), 1 + static_cast<int>(random() % 200), cv::Vec3b());
  for (int i = 0; i < 90; ++i) {
    const cv::Rect part =
        cv::Rect(static_cast<int>(random() % 200), static_cast<int>(random() % 740),
                 1 + static_cast<int>(random() % 130), 1 + static_cast<int>(random() % 190)) &
        cv::Rect({}, page.size());
    const int start = static_cast<int>(random() % 200), slope = static_cast<int>(random() % 9);
    const int noise = 1 + static_cast<int>(random() % (i % 3 == 0 ? 20 : 1));
    for (int y = part.y; y < part.br().y; ++y)
      for (int x = part.x; x < part.br().x; ++x)
        page(y, x) = cv::Vec3b::all(cv::saturate_cast<std::uint8_t>(
            start + slope * (x - part.x + y - part.y) / 2 + static_cast<int>(random()) % noise));
  }
  return page;
}

/// Paper beside a field, each pixel mixed by coverage. Their border leans by a pixel in `rows_a_px`, from
/// `at` in the first row; from -1 it comes in by the first column.
cv::Mat3b leaning_border(double at, double rows_a_px, int level) {
  cv::Mat3b page(300, 60);
  for (int y = 0; y < page.rows; ++y)
    for (int x = 0; x < page.cols; ++x) {
      const double covered = std::clamp(x + 1 - at - y / rows_a_px, 0.0, 1.0);
      page(y, x) = cv::Vec3b::all(cv::saturate_cast<std::uint8_t>(255 - covered * (255 - level)));
    }
  return page;
}

TEST(Zones, DoNotLeakAlongABorderThatLeansALittle) {
  for (const double at : {10.0, -1.0})
    for (const double rows_a_px : {12.0, 35.0, 120.0})
      for (const int level : {60, 200}) {
        const cv::Mat3b upright = leaning_border(at, rows_a_px, level);
        const ZoneMap map = label_zones(upright, {2, 12, 24});
        EXPECT_NE(map.label(299, 0), map.label(0, 59)) << at << ", " << rows_a_px << ", " << level;
        cv::Mat3b lying;
        cv::transpose(upright, lying);
        const ZoneMap turned = label_zones(lying, {2, 12, 24});
        EXPECT_NE(turned.label(0, 299), turned.label(59, 0)) << at << ", " << rows_a_px << ", " << level;
      }
  const ZoneMap leaked = label_zones(leaning_border(10, 35, 200), {2, 12});
  EXPECT_EQ(leaked.label(299, 0), leaked.label(0, 59));
}

TEST(Zones, AreThoseOfAPlainFloodFill) {
  std::mt19937 random(14);
  for (const ZoneRule rule : {ZoneRule{0, 0}, ZoneRule{2, 12}, ZoneRule{2, 12, 24}, ZoneRule{6, 16, 9}})
    for (int round = 0; round < 12; ++round) {
      const cv::Mat3b page = random_page(random);
      const cv::Mat1i plain = PlainZones(page, rule).run();
      const ZoneMap map = label_zones(page, rule);
      ASSERT_EQ(cv::countNonZero(map.label.dense({{}, page.size()}) != plain), 0);
    }
}

TEST(Zones, ThatAreNotKeptLeaveTheOthersAsTheyAre) {
  std::mt19937 random(15);
  for (int round = 0; round < 12; ++round) {
    const cv::Mat3b page = random_page(random);
    const auto large = [](const Zone& zone) { return zone.area >= 30; };
    const ZoneMap all = label_zones(page, {2, 12}),
                  kept = label_zones(page, {{}, page.size()}, {2, 12}, {large, 30});
    int next = 0;
    std::vector<int> number(all.zones.size(), -1);
    for (std::size_t i = 0; i < all.zones.size(); ++i)
      if (large(all.zones[i])) {
        number[i] = next++;
        EXPECT_EQ(kept.zones[static_cast<std::size_t>(number[i])].box, all.zones[i].box);
        EXPECT_EQ(kept.zones[static_cast<std::size_t>(number[i])].colour, all.zones[i].colour);
      }
    ASSERT_EQ(static_cast<int>(kept.zones.size()), next);
    for (int y = 0; y < page.rows; ++y)
      for (int x = 0; x < page.cols; ++x)
        ASSERT_EQ(kept.label(y, x), number[static_cast<std::size_t>(all.label(y, x))]);
  }
}

/// Noise, and from two rows before the second band on columns that are ramps, each its own zone.
cv::Mat3b ramps_between_bands(std::mt19937& random) {
  cv::Mat3b page(300, 64);
  for (int y = 0; y < page.rows; ++y)
    for (int x = 0; x < page.cols; ++x)
      page(y, x) = cv::Vec3b::all(static_cast<std::uint8_t>(
          y < 254 ? random() % 256 : static_cast<unsigned>(60 * (x % 2) + 4 * (y - 254))));
  return page;
}

TEST(Zones, NeedNoMoreRowsThanAreThere) {
  std::mt19937 random(17);
  for (int round = 0; round < 12; ++round) {
    const cv::Mat3b page = round < 2 ? ramps_between_bands(random) : random_page(random);
    cv::Mat3b decoded(page.size(), cv::Vec3b(1, 2, 3));
    const KeptZones kept{[](const Zone& zone) { return zone.area >= 30; }, 30};
    ZoneBands bands(decoded, {{}, page.size()}, {2, 12, 24}, kept);
    int labelled = 0;
    for (int y = 0; y < page.rows; ++y) {
      page.row(y).copyTo(decoded.row(y));
      labelled += bands.label_next(y + 1);
    }
    EXPECT_EQ(labelled, (page.rows + 255) / 256);
    const ZoneMap map = bands.finish(), whole = label_zones(page, {{}, page.size()}, {2, 12, 24}, kept);
    for (int y = 0; y < page.rows; ++y)
      ASSERT_TRUE(std::ranges::equal(map.label.row(y), whole.label.row(y))) << "row " << y;
  }
}

TEST(Zones, AreNotedWithoutTheirPixels) {
  std::mt19937 random(16);
  const auto none = [](const Zone&) { return false; };
  const auto large = [](const Zone& zone) { return zone.area >= 9; };
  for (int round = 0; round < 12; ++round) {
    const cv::Mat3b page = random_page(random);
    const std::vector<Zone> kept = label_zones(page, {{}, page.size()}, {2, 12}, {large, 9}).zones;
    const ZoneMap map = label_zones(page, {{}, page.size()}, {2, 12}, {none, 9, false, large});
    EXPECT_TRUE(map.zones.empty());
    ASSERT_EQ(map.noted.size(), kept.size());
    for (std::size_t i = 0; i < kept.size(); ++i) {
      EXPECT_EQ(map.noted[i].area, kept[i].area);
      EXPECT_EQ(map.noted[i].box, kept[i].box);
      EXPECT_EQ(map.noted[i].colour, kept[i].colour);
      EXPECT_EQ(map.noted[i].canvas_contact, kept[i].canvas_contact);
    }
  }
}

TEST(Zones, KnowHowMuchOfTheirBorderIsSharp) {
  cv::Mat3b image(20, 20, cv::Vec3b::all(255));
  image(cv::Rect(6, 6, 5, 5)) = cv::Vec3b::all(0);
  image(cv::Rect(13, 6, 1, 5)) = cv::Vec3b::all(250);
  const auto all = [](const Zone&) { return true; };
  const ZoneMap map = label_zones(image, {{}, image.size()}, {0, 0}, {all, 1, true});
  const Zone& ink = map.zones[static_cast<std::size_t>(map.label(8, 8))];
  EXPECT_EQ(ink.border, 20);
  EXPECT_EQ(ink.sharp_border, 20);
  const Zone& faint = map.zones[static_cast<std::size_t>(map.label(8, 13))];
  EXPECT_EQ(faint.border, 12);
  EXPECT_EQ(faint.sharp_border, 0);
}

/// A square of ink whose colour turns over the two pixels outside of a pixel of ringing, with a speck in it.
TEST(Zones, KnowASharpBorderThroughRinging) {
  cv::Mat3b image(30, 30, cv::Vec3b::all(200));
  image(cv::Rect(7, 7, 14, 14)) = cv::Vec3b::all(110);
  image(cv::Rect(8, 8, 12, 12)) = cv::Vec3b::all(18);
  image(cv::Rect(9, 9, 10, 10)) = cv::Vec3b::all(40);
  image(14, 14) = cv::Vec3b::all(52);
  const auto all = [](const Zone&) { return true; };
  const auto ink_of = [&](int latest_turn) {
    const ZoneMap map = label_zones(image, {{}, image.size()}, {8, 0}, {all, 1, true, {}, latest_turn});
    return map.zones[static_cast<std::size_t>(map.label(10, 10))];
  };
  EXPECT_EQ(ink_of(0).border, 44);
  EXPECT_LT(ink_of(0).sharp_border, 31) << "0.7 of its border";
  EXPECT_EQ(ink_of(2).border, 40);
  EXPECT_EQ(ink_of(2).sharp_border, 40);
}

TEST(Zones, OfASoftPatchHaveNoSharpBorderHoweverLateItMayTurn) {
  cv::Mat3b image(40, 40, cv::Vec3b::all(200));
  for (int rim = 0; rim < 8; ++rim)
    image(cv::Rect(5 + rim, 5 + rim, 30 - 2 * rim, 30 - 2 * rim)) =
        cv::Vec3b::all(cv::saturate_cast<std::uint8_t>(180 - 20 * rim));
  const auto all = [](const Zone&) { return true; };
  const ZoneMap map = label_zones(image, {{}, image.size()}, {8, 0}, {all, 1, true, {}, 2});
  EXPECT_EQ(map.zones[static_cast<std::size_t>(map.label(20, 20))].sharp_border, 0);
}

TEST(Zones, OfASinglePixelAreOne) {
  const ZoneMap map = label_zones(cv::Mat3b(1, 1, cv::Vec3b(1, 2, 3)), {2, 12});
  ASSERT_EQ(map.zones.size(), 1U);
  EXPECT_EQ(map.zones[0].canvas_contact, 1);
}

}  // namespace
}  // namespace frisket
