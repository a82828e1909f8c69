// Zones: the labelling against scikit-image, steps and ramps on drawn colours.
#include "page/zones.hpp"

#include <gtest/gtest.h>

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

TEST(Zones, OfASinglePixelAreOne) {
  const ZoneMap map = label_zones(cv::Mat3b(1, 1, cv::Vec3b(1, 2, 3)), {2, 12});
  ASSERT_EQ(map.zones.size(), 1U);
  EXPECT_EQ(map.zones[0].canvas_contact, 1);
}

}  // namespace
}  // namespace frisket
