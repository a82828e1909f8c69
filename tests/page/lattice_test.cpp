// The lattice of a page's ground: its periods, and what is given to the ground by them.
#include "page/grounds/lattice.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <span>

#include "page/elements/elements.hpp"
#include "page/grounds/lattice_ground.hpp"

namespace frisket {
namespace {

const Scale scale{300 / 25.4, false};
const cv::Vec3b green(96, 140, 96), sand(226, 214, 190);

/// A page of sand on which `is_figure(u, v)` says what is green, u and v counted in periods of `pitch` px
/// from the top left corner, turned by `degrees`; drawn at four times the size.
template <class IsFigure>
cv::Mat3b patterned(cv::Size size, double pitch, double degrees, IsFigure&& is_figure) {
  constexpr int larger = 4;
  const double c = std::cos(degrees * CV_PI / 180) / pitch / larger,
               s = std::sin(degrees * CV_PI / 180) / pitch / larger;
  cv::Mat3b large(size * larger, sand), page;
  for (int y = 0; y < large.rows; ++y)
    for (int x = 0; x < large.cols; ++x) {
      const double u = c * x + s * y, v = c * y - s * x;
      if (is_figure(u - std::floor(u), v - std::floor(v))) large(y, x) = green;
    }
  cv::resize(large, page, size, 0, 0, cv::INTER_AREA);
  return page;
}

bool is_dot(double u, double v) { return std::hypot(u - 0.5, v - 0.5) < 0.25; }
bool is_tile(double u, double v) { return (u < 0.5) == (v < 0.5); }
bool is_stripe(double u, double) { return u < 0.4; }

/// How far `moved` is from a place of the square lattice that was drawn, px.
double off_lattice(cv::Vec2d moved, double pitch, double degrees) {
  const double c = std::cos(degrees * CV_PI / 180) / pitch, s = std::sin(degrees * CV_PI / 180) / pitch;
  const double u = c * moved[0] + s * moved[1], v = c * moved[1] - s * moved[0];
  return pitch * std::hypot(u - std::round(u), v - std::round(v));
}

TEST(Lattice, OfDotsHasTheirPitch) {
  for (const double degrees : {0.0, 12.0, 30.0, 45.0}) {
    const auto found = find_lattice(patterned({900, 700}, 43.3, degrees, is_dot), scale);
    ASSERT_TRUE(found) << degrees;
    EXPECT_FALSE(found->stripes) << degrees;
    for (const cv::Vec2d& period : found->periods) {
      EXPECT_NEAR(cv::norm(period), 43.3, 0.5) << degrees;
      EXPECT_LT(off_lattice(period, 43.3, degrees), 0.5) << degrees;
    }
  }
}

TEST(Lattice, OfABoardLeadsFromTileToTileOfOneColour) {
  const auto found = find_lattice(patterned({900, 700}, 60.0, 12.0, is_tile), scale);
  ASSERT_TRUE(found);
  for (const cv::Vec2d& period : found->periods) {
    EXPECT_NEAR(cv::norm(period), 60.0 / std::sqrt(2.0), 0.5);
    EXPECT_LT(off_lattice(2.0 * period, 60.0, 12.0), 1.0);
  }
}

TEST(Lattice, OfStripesLeadsAcrossAndAlongThem) {
  const auto found = find_lattice(patterned({900, 700}, 50.0, 30.0, is_stripe), scale);
  ASSERT_TRUE(found);
  EXPECT_TRUE(found->stripes);
  const cv::Vec2d across(std::cos(CV_PI / 6), std::sin(CV_PI / 6));
  EXPECT_NEAR(std::abs(found->periods[0].dot(across)), 50.0, 1.0);
  EXPECT_NEAR(found->periods[1].dot(across), 0.0, 1.0);
}

TEST(Lattice, IsNotThatOfLinesOfType) {
  // Equal letters in equal lines all over a page, as in a table of noughts: the canvas edge cuts none.
  cv::Mat3b page(1400, 1800, sand);
  for (int y = 60; y < 1340; y += 50)
    for (int x = 60; x < 1740; x += 30) cv::ellipse(page, {x, y}, {8, 12}, 0, 0, 360, cv::Scalar(green), 4);
  EXPECT_FALSE(find_lattice(page, scale));
}

/// What stands on the page, whatever its surfaces are called.
std::vector<Element> elements_of(const cv::Mat3b& page) {
  const SurfaceMap surfaces = find_surfaces(page, scale);
  SharpZones sharp(page, scale);
  return find_elements(page, surfaces, scale, sharp).elements;
}

TEST(LatticeGround, HasTheFiguresThatAFrameCrosses) {
  cv::Mat3b page = patterned({900, 700}, 43.3, 45.0, is_dot);
  cv::rectangle(page, cv::Rect(90, 80, 700, 520), cv::Scalar(20, 30, 90), 6);
  const std::vector<Element> found = elements_of(page);
  ASSERT_EQ(found.size(), 1U);
  EXPECT_NEAR(found[0].box_px.x, 87, 2);
  EXPECT_NEAR(found[0].box_px.width, 706, 3);
}

TEST(LatticeGround, HasTilesThatMeetAtTheirCorners) {
  cv::Mat3b page = patterned({900, 700}, 60.0, 12.0, is_tile);
  const cv::Rect panel(300, 250, 260, 90);
  page(panel) = cv::Vec3b(20, 30, 90);
  const std::vector<Element> found = elements_of(page);
  ASSERT_EQ(found.size(), 1U);
  EXPECT_NEAR(found[0].box_px.x, panel.x, 1);
  EXPECT_NEAR(found[0].box_px.y, panel.y, 1);
  EXPECT_NEAR(found[0].box_px.width, panel.width, 2);
}

TEST(LatticeGround, LeavesAPanelOfOneOfItsColours) {
  cv::Mat3b page = patterned({900, 700}, 43.3, 0.0, is_dot);
  page(cv::Rect(300, 252, 300, 186)) = green;
  const std::vector<Element> found = elements_of(page);
  ASSERT_EQ(found.size(), 1U);
  EXPECT_NEAR(found[0].box_px.width, 300, 2);
  EXPECT_NEAR(found[0].box_px.height, 186, 2);
}

TEST(LatticeGround, IsNotInPlanksOfWood) {
  // Colour that swells and ebbs has no borders, though it dwells on the two.
  cv::Mat3b page(700, 900);
  for (int y = 0; y < page.rows; ++y)
    for (int x = 0; x < page.cols; ++x) {
      const double swell = std::clamp(0.5 + 0.6 * std::sin(x * CV_PI / 25), 0.0, 1.0);
      page(y, x) = cv::Vec3b(cv::Vec3d(sand) * swell + cv::Vec3d(green) * (1 - swell));
    }
  SurfaceMap map;
  map.label = LabelMap(page.size(), 0);
  for (int y = 0; y < page.rows; ++y) map.label.add_row(std::span<const frisket::Run>());
  const auto lattice = find_lattice(page, scale);
  ASSERT_TRUE(lattice);
  EXPECT_FALSE(give_lattice_to_ground(page, lattice, scale, map));
}

}  // namespace
}  // namespace frisket
