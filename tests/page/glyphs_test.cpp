// The colour that a letter was printed in.
#include "page/text/glyphs.hpp"

#include <gtest/gtest.h>

namespace frisket {
namespace {

const cv::Vec3b navy(31, 58, 95), white(255, 255, 255), orange(228, 87, 46);

/// A disc, anti-aliased, over the border of two grounds.
struct Disc {
  Disc() : rgb(40, 40, white), map(rgb.size(), -1) {
    rgb.colRange(0, 26) = navy;
    cv::Mat1b coverage(rgb.size(), std::uint8_t{0});
    cv::circle(coverage, {20, 20}, 7, 255, 3, cv::LINE_AA);
    cv::Mat1i labels(rgb.size(), -1);
    for (int y = 0; y < rgb.rows; ++y)
      for (int x = 0; x < rgb.cols; ++x) {
        const double share = coverage(y, x) / 255.0;
        rgb(y, x) = cv::Vec3b(share * cv::Vec3d(orange) + (1 - share) * cv::Vec3d(rgb(y, x)));
        if (share > 0) labels(y, x) = 0;
      }
    for (int y = 0; y < rgb.rows; ++y) map.add_row(labels[y]);
    Element element;
    element.box_px = {11, 11, 19, 19};
    elements.push_back(element);
  }
  cv::Mat3b rgb;
  LabelMap map;
  std::vector<Element> elements;
};

TEST(Glyphs, InkOverTwoGroundsIsNeitherOfTheirMixtures) {
  const Disc disc;
  Glyphs glyphs(disc.elements, disc.rgb, disc.map);
  const Ink ink = glyphs.ink(0);
  EXPECT_TRUE(ink.known);
  EXPECT_LE(colour_step(ink.colour, cv::Vec3f(orange)), 8.0F) << ink.colour;
}

}  // namespace
}  // namespace frisket
