// Patterns: the tiles of a board are one, what lies strewn over a ground is none.
#include "page/elements/patterns.hpp"

#include <gtest/gtest.h>

namespace frisket {
namespace {

const Scale scale{300 / 25.4, false};
const cv::Vec3b green(96, 140, 96), sand(226, 214, 190);

/// A page of sand with figures put on it by `put`, and with a comb of their colour whose teeth the canvas
/// cuts.
template <class Put>
cv::Mat3b page_of_figures(Put&& put) {
  cv::Mat3b page(2200, 2800, sand);
  page(cv::Rect(12, 100, 12, 1400)) = green;
  for (int y = 100; y < 1500; y += 250) page(cv::Rect(0, y, 12, 60)) = green;
  put(page);
  return page;
}

TEST(Tiles, OfABoardAreAPattern) {
  const cv::Mat3b page = page_of_figures([](cv::Mat3b& on) {
    for (int y = 60; y < 2100; y += 60)
      for (int x = 60 + y % 120; x < 2700; x += 120) on(cv::Rect(x, y, 60, 60)) = green;
  });
  const std::vector<Pattern> found = tiles(page, find_surfaces(page, scale));
  ASSERT_FALSE(found.empty());
  EXPECT_GE(found.front().figures.size(), 100u);
}

TEST(Tiles, ThatLieStrewnAreNone) {
  const cv::Mat3b page = page_of_figures([](cv::Mat3b& on) {
    for (int i = 0; i < 14; ++i)
      on(cv::Rect(70 + 271 * i % 2600, 80 + 397 * i % 2000, 76 + 4 * (i % 8), 104 - 4 * (i % 8))) =
          green + cv::Vec3b::all(static_cast<std::uint8_t>(i % 3));
  });
  EXPECT_TRUE(tiles(page, find_surfaces(page, scale)).empty());
}

}  // namespace
}  // namespace frisket
