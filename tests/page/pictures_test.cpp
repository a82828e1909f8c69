// Photographs are found, drawn matter is not. Pages are SVG, rendered by librsvg: the truth is in the
// numbers.
#include "page/pictures/pictures.hpp"

#include <gtest/gtest.h>

#include <random>

#include "page/grounds/smooth_ground.hpp"
#include "photograph.hpp"
#include "planted_page.hpp"

namespace frisket {
namespace {

using planted::image;
using planted::png_uri;
using planted::rect;
using planted::text;

constexpr double dpi = 300;
const planted::Canvas page{0, 0, 120, 90};

std::vector<PictureRegion> found_on(const std::string& drawing, double at_dpi = dpi) {
  const Raster raster = planted::render(drawing, at_dpi, page);
  return find_pictures(view_of(raster), at_dpi);
}

/// A photograph of `ppi` over a box in millimetres.
std::string photograph(double x, double y, double w, double h, double ppi, unsigned seed) {
  return image(x, y, w, h,
               png_uri(planted::photograph(static_cast<int>(std::ceil(w / 25.4 * ppi)),
                                           static_cast<int>(std::ceil(h / 25.4 * ppi)), seed)));
}

void expect_box(const cv::Rect& box, double x, double y, double w, double h, double at_dpi = dpi,
                double within = 2.0) {
  const double px = at_dpi / 25.4;
  EXPECT_NEAR(box.x, x * px, within);
  EXPECT_NEAR(box.y, y * px, within);
  EXPECT_NEAR(box.x + box.width, (x + w) * px, within);
  EXPECT_NEAR(box.y + box.height, (y + h) * px, within);
}

TEST(Pictures, OneOnPaperToThePixel) {
  for (const double ppi : {72.0, 96.0, 150.0, 300.0}) {
    const auto found = found_on(photograph(20.3, 14.7, 50, 40, ppi, 3));
    ASSERT_EQ(found.size(), 1U) << ppi;
    expect_box(found[0].box, 20.3, 14.7, 50, 40);
  }
}

TEST(Pictures, AtOtherResolutionsOfThePage) {
  for (const double at_dpi : {150.0, 600.0}) {
    const auto found = found_on(photograph(20, 14, 50, 40, 150, 3), at_dpi);
    ASSERT_EQ(found.size(), 1U) << at_dpi;
    expect_box(found[0].box, 20, 14, 50, 40, at_dpi);
  }
}

TEST(Pictures, OnColourAndGradient) {
  const std::string gradient =
      "<defs><linearGradient id='g' x1='0' y1='0' x2='1' y2='0.6'><stop offset='0' stop-color='#20407c'/>"
      "<stop offset='1' stop-color='#c87850'/></linearGradient></defs>" +
      rect(0, 0, 120, 90, "url(#g)");
  for (const std::string& ground : {rect(0, 0, 120, 90, "#2f6f6a"), gradient}) {
    const auto found = found_on(ground + photograph(20, 14, 50, 40, 150, 4));
    ASSERT_EQ(found.size(), 1U);
    expect_box(found[0].box, 20, 14, 50, 40);
  }
}

TEST(Pictures, OffTheCanvasOnThreeSides) {
  const auto found = found_on(photograph(-5, -5, 130, 60, 150, 5));
  ASSERT_EQ(found.size(), 1U);
  expect_box(found[0].box, 0, 0, 120, 55);
}

TEST(Pictures, SideBySideAndTouching) {
  for (const double gap : {0.0, 0.2, 3.0}) {
    const auto found = found_on(photograph(10, 10, 40, 40, 96, 6) + photograph(50 + gap, 10, 40, 40, 300, 7));
    ASSERT_EQ(found.size(), 2U) << gap;
    constexpr double hairline = 3.0;  // a gap of 0.2 mm is 2.4 px
    expect_box(found[0].box, 10, 10, 40, 40, dpi, hairline);
    expect_box(found[1].box, 50 + gap, 10, 40, 40, dpi, hairline);
  }
}

/// A photograph cut out by `shape`, in mm.
std::string clipped(const std::string& shape, double x, double y, double w, double h, unsigned seed) {
  return "<clipPath id='c'>" + shape + "</clipPath><g clip-path='url(#c)'>" +
         photograph(x, y, w, h, 200, seed) + "</g>";
}

TEST(Pictures, WithRoundedCornersAndOval) {
  const auto rounded =
      found_on(clipped("<rect x='20' y='15' width='60' height='45' rx='8'/>", 20, 15, 60, 45, 21));
  ASSERT_EQ(rounded.size(), 1U);
  expect_box(rounded[0].box, 20, 15, 60, 45);
  const auto oval = found_on(clipped("<ellipse cx='50' cy='40' rx='30' ry='24'/>", 20, 16, 60, 48, 22));
  ASSERT_EQ(oval.size(), 1U);
  expect_box(oval[0].box, 20, 16, 60, 48, dpi, 24);  // two blocks: its ends are narrow
}

TEST(Pictures, TurnedOnesAreBoxedAround) {
  const auto found =
      found_on("<g transform='rotate(6 50 40)'>" + photograph(25, 22, 50, 36, 200, 23) + "</g>");
  ASSERT_EQ(found.size(), 1U);
  const double cos = std::cos(6 * CV_PI / 180), sin = std::sin(6 * CV_PI / 180);
  const double w = 50 * cos + 36 * sin, h = 50 * sin + 36 * cos;
  expect_box(found[0].box, 50 - w / 2, 40 - h / 2, w, h, dpi, 32);
}

TEST(Pictures, HairlineSplitsOne) {
  const auto found = found_on(photograph(10, 10, 80, 50, 200, 24) + rect(48, 10, 0.1, 50, "white"));
  ASSERT_EQ(found.size(), 2U);
  expect_box(found[0].box, 10, 10, 38, 50, dpi, 3);
  expect_box(found[1].box, 48.1, 10, 41.9, 50, dpi, 3);
}

TEST(Pictures, GreyOnes) {
  cv::Mat grey, rgb;
  cv::cvtColor(planted::photograph(400, 300, 25), grey, cv::COLOR_RGB2GRAY);
  cv::cvtColor(grey, rgb, cv::COLOR_GRAY2RGB);
  const auto found = found_on(image(20, 20, 60, 45, png_uri(rgb)));
  ASSERT_EQ(found.size(), 1U);
  expect_box(found[0].box, 20, 20, 60, 45);
}

TEST(Pictures, UnderType) {
  const auto found =
      found_on(photograph(10, 10, 90, 60, 200, 8) + text(14, 40, 24, "Harbour days", "fill='white'") +
               text(14, 50, 9, "Boats are taken out of the water in October.", "fill='white'"));
  ASSERT_EQ(found.size(), 1U);
  expect_box(found[0].box, 10, 10, 90, 60);
}

TEST(Pictures, TypeAcrossTheWholeWidthDoesNotPartOne) {
  std::string lines;
  for (int i = 0; i < 3; ++i)
    lines += text(10.5, 34 + 5.5 * i, 13, "Harbour days, lantern yard, quay and tide", "fill='white'");
  const auto found = found_on(photograph(10, 10, 90, 60, 120, 8) + lines);
  ASSERT_EQ(found.size(), 1U);
  expect_box(found[0].box, 10, 10, 90, 60);
}

/// Small shaded faces with hard edges, as of tiles or bricks in strong light; hardly any grain.
cv::Mat bricks(int width, int height) {
  cv::Mat1f faces(2 * height, 2 * width);
  std::mt19937 random(5);
  std::uniform_real_distribution<float> level(40, 210), slope(-0.8F, 0.8F);
  constexpr int across = 30, down = 18;
  for (int y = 0; y < faces.rows; y += down)
    for (int x = y / down % 2 * across / -2; x < faces.cols; x += across) {
      const float start = level(random), along = slope(random);
      for (int j = 0; j < std::min(down, faces.rows - y); ++j)
        for (int i = std::max(0, -x); i < std::min(across, faces.cols - x); ++i)
          faces(y + j, x + i) = start + along * static_cast<float>(i);
    }
  cv::Mat1f reduced, noise(height, width);
  cv::resize(faces, reduced, {width, height}, 0, 0, cv::INTER_AREA);
  cv::RNG(7).fill(noise, cv::RNG::NORMAL, 0.0, 1.2);
  cv::Mat grey, rgb;
  cv::Mat(reduced + noise).convertTo(grey, CV_8U);
  cv::cvtColor(grey, rgb, cv::COLOR_GRAY2RGB);
  return rgb;
}

TEST(Pictures, OfHardEdgedFacesAreNoType) {
  for (const double ppi : {250.0, 300.0}) {
    const int width = static_cast<int>(60 / 25.4 * ppi), height = static_cast<int>(45 / 25.4 * ppi);
    const auto found = found_on(image(20, 20, 60, 45, png_uri(bricks(width, height))));
    ASSERT_EQ(found.size(), 1U) << ppi;
    expect_box(found[0].box, 20, 20, 60, 45);
  }
}

TEST(Pictures, TypeThatTouchesOneIsNoPartOfIt) {
  std::string lines;
  for (int i = 0; i < 11; ++i)
    lines += text(12, 14 + 4.4 * i, 11, "Lantern yard and quay, tide and boat yard");
  const auto found = found_on(lines + photograph(70, 10, 40, 50, 150, 8));
  ASSERT_EQ(found.size(), 1U);
  expect_box(found[0].box, 70, 10, 40, 50);
}

/// Dots of 4 px on a square grid: grey between them at every pitch.
std::string tint(double pitch, const std::string& ink, int degrees) {
  return "<defs><pattern id='p' width='" + planted::number(pitch) + "' height='" + planted::number(pitch) +
         "' patternUnits='userSpaceOnUse' patternTransform='rotate(" + std::to_string(degrees) +
         ")'><circle cx='" + planted::number(pitch / 2) + "' cy='" + planted::number(pitch / 2) + "' r='" +
         planted::number(pitch * 0.4) + "' fill='" + ink + "'/></pattern></defs>" +
         rect(10, 10, 60, 50, "url(#p)");
}

TEST(Pictures, FineTintsAreNone) {
  for (const double pitch : {0.35, 0.5, 0.8})
    for (const int degrees : {0, 15, 45})
      EXPECT_TRUE(found_on(tint(pitch, "#c86a20", degrees)).empty()) << pitch << " " << degrees;
}

TEST(Pictures, TintsAsLightAsTheirGroundAreNone) {
  const std::string ground =
      "<defs><linearGradient id='g' x1='0' y1='0' x2='1' y2='0.6'><stop offset='0' stop-color='#a02060'/>"
      "<stop offset='1' stop-color='#8a3858'/></linearGradient></defs>" +
      rect(0, 0, 120, 90, "url(#g)");
  EXPECT_TRUE(found_on(ground + tint(0.62, "#286424", 45)).empty());
}

/// A photograph of nothing sharp, with the grain that its own rounding leaves.
std::string soft_photograph(double x, double y, double w, double h, unsigned seed) {
  cv::RNG random(seed);
  cv::Mat1f scene(static_cast<int>(h * 6), static_cast<int>(w * 6));
  random.fill(scene, cv::RNG::NORMAL, 0.0, 1.0);
  cv::GaussianBlur(scene, scene, cv::Size(), 40);
  cv::normalize(scene, scene, 60, 180, cv::NORM_MINMAX);
  cv::Mat1f grain(scene.size());
  random.fill(grain, cv::RNG::NORMAL, 0.0, 0.3);
  cv::Mat grey, rgb;
  cv::Mat(scene + grain).convertTo(grey, CV_8U);
  cv::cvtColor(grey, rgb, cv::COLOR_GRAY2RGB);
  return image(x, y, w, h, png_uri(rgb));
}

TEST(Pictures, OutOfFocus) {
  const auto found = found_on(soft_photograph(20, 15, 60, 50, 31));
  ASSERT_EQ(found.size(), 1U);
  expect_box(found[0].box, 20, 15, 60, 50);
}

TEST(Pictures, TypeThatGreenHardlyShowsIsNone) {
  std::string drawing =
      "<defs><linearGradient id='g' x1='0' y1='0' x2='1' y2='1'><stop offset='0' stop-color='#5a22c8'/>"
      "<stop offset='1' stop-color='#8c26b4'/></linearGradient></defs>" +
      rect(0, 0, 120, 90, "url(#g)");
  for (int i = 0; i < 16; ++i)
    drawing += text(8, 10 + i * 4.6, 11, "the quick wind turns over every boat that lies in the harbour",
                    "fill='#222222'");
  EXPECT_TRUE(found_on(drawing).empty());
}

TEST(Pictures, SmallOnesFrom8mm) {
  EXPECT_EQ(found_on(photograph(10.1, 10.1, 9, 9, 300, 9)).size(), 1U);
  EXPECT_EQ(found_on(photograph(10.1, 10.1, 5, 5, 300, 9)).size(), 0U) << "too small to be one";
}

std::string small_print() {
  std::string lines;
  for (int i = 0; i < 24; ++i)
    lines +=
        text(8, 6 + i * 3.3, 7.5, "the quick wind turns over every boat that lies in the harbour 1 2 3 4 5");
  return lines;
}

std::string table() {
  std::string cells;
  for (int row = 0; row < 26; ++row) {
    cells += rect(8, 5 + row * 3.0, 100, 0.1, "#555555");
    for (int column = 0; column < 10; ++column)
      cells += text(8 + column * 10, 7.2 + row * 3.0, 6, std::to_string(10007 * (row + 3) + 977 * column));
  }
  return cells;
}

struct Drawn {
  const char* name;
  std::string drawing;
};

class DrawnMatter : public testing::TestWithParam<Drawn> {};

TEST_P(DrawnMatter, IsNoPicture) {
  const auto found = found_on(GetParam().drawing);
  for (const PictureRegion& picture : found) ADD_FAILURE() << picture.box;
}

INSTANTIATE_TEST_SUITE_P(
    Pictures, DrawnMatter,
    testing::Values(
        Drawn{"small_print", small_print()}, Drawn{"table", table()},
        Drawn{"small_print_on_colour", rect(0, 0, 120, 90, "#2f6f6a") + small_print()},
        Drawn{"linear_gradient",
              "<defs><linearGradient id='g' x1='0' y1='0' x2='1' y2='0.6'><stop offset='0' "
              "stop-color='#20407c'/>"
              "<stop offset='1' stop-color='#c87850'/></linearGradient></defs>" +
                  rect(10, 10, 80, 60, "url(#g)")},
        Drawn{"gradient_that_leans",
              "<defs><linearGradient id='g' x1='0' y1='0' x2='1' y2='0.02'><stop offset='0' "
              "stop-color='#3a1c30'/>"
              "<stop offset='1' stop-color='#b090e8'/></linearGradient></defs>" +
                  rect(10, 10, 24, 60, "url(#g)")},
        Drawn{
            "radial_gradient",
            "<defs><radialGradient id='g'><stop stop-color='#ffffff'/><stop offset='1' stop-color='#003333'/>"
            "</radialGradient></defs>" +
                rect(10, 10, 60, 60, "url(#g)")},
        Drawn{"blurred_shadow",
              "<defs><filter id='b' x='-50%' y='-50%' width='200%' height='200%'><feGaussianBlur "
              "stdDeviation='3'/></filter></defs>"
              "<rect x='20' y='20' width='60' height='40' filter='url(#b)'/>" +
                  rect(18, 18, 60, 40, "#eeeeee")},
        Drawn{"hatching",
              "<defs><pattern id='p' width='1.1' height='1.1' patternUnits='userSpaceOnUse' "
              "patternTransform='rotate(30)'>"
              "<rect width='0.5' height='1.1' fill='#175c46'/></pattern></defs>" +
                  rect(10, 10, 90, 60, "url(#p)")},
        Drawn{"dots",
              "<defs><pattern id='p' width='1.3' height='1.3' patternUnits='userSpaceOnUse'><circle cx='0.6' "
              "cy='0.6' r='0.4' fill='#aa3311'/>"
              "</pattern></defs>" +
                  rect(10, 10, 90, 60, "url(#p)")}),
    [](const auto& drawn) { return std::string(drawn.param.name); });

TEST(SmoothGround, TellsRampsFromTheSoftestPicture) {
  cv::Mat1b ramp(200, 300), soft(200, 300);
  std::mt19937 random(3);
  for (int y = 0; y < ramp.rows; ++y)
    for (int x = 0; x < ramp.cols; ++x) {
      ramp(y, x) = cv::saturate_cast<std::uint8_t>(30 + 0.31 * x + 0.17 * y);
      soft(y, x) = cv::saturate_cast<std::uint8_t>(120 + 4 * std::sin(x / 6.0 + y / 11.0));
    }
  for (const double share : SmoothGround(ramp, 16).rough_shares({0, 0, 300, 200}, false))
    EXPECT_EQ(share, 0.0);
  const cv::Rect inside(20, 20, 250, 150);
  for (const bool rows : {false, true})
    for (const double share : SmoothGround(soft, 16).rough_shares(inside, rows)) EXPECT_GT(share, 0.3);
}

TEST(Texture, IsWhereThePictureIs) {
  const Raster raster = planted::render(photograph(40, 30, 40, 30, 150, 11), dpi, page);
  cv::Mat1b grey;
  cv::extractChannel(view_of(raster), grey, 1);
  const TextureMap map = TextureMapper(grey, dpi).finish();
  EXPECT_EQ(map.block, 16);
  const cv::Rect inside(cv::Point(31, 23), cv::Point(58, 44));  // blocks wholly inside
  EXPECT_GT(cv::countNonZero(map.textured(inside)), 0.95 * inside.area());
  cv::Mat1b outside = map.textured.clone();
  outside(cv::Rect(cv::Point(29, 22), cv::Point(60, 45))) = 0;
  EXPECT_EQ(cv::countNonZero(outside), 0);
}

}  // namespace
}  // namespace frisket
