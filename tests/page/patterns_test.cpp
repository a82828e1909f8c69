// Patterns: the tiles of a board are one, what lies strewn over a ground is none.
#include "page/elements/patterns.hpp"

#include <gtest/gtest.h>

namespace frisket {
namespace {

const Scale scale{300 / 25.4, false};
const cv::Vec3b green(96, 140, 96), sand(226, 214, 190);

/// A page of sand whose edge some bars of green cross, with green squares of 60 px put on it by `put`.
template <class Put>
cv::Mat3b page_of_squares(Put&& put) {
  cv::Mat3b page(1200, 1500, sand);
  for (int y = 100; y < page.rows; y += 250) page(cv::Rect(0, y, 12, 60)) = green;
  put(page);
  return page;
}

TEST(Tiles, OfABoardAreAPattern) {
  const cv::Mat3b page = page_of_squares([](cv::Mat3b& on) {
    for (int y = 60; y < 1080; y += 60)
      for (int x = 60 + y % 120; x < 1380; x += 120) on(cv::Rect(x, y, 60, 60)) = green;
  });
  const std::vector<Pattern> found = tiles(page, find_surfaces(page, scale));
  ASSERT_FALSE(found.empty());
  EXPECT_GE(found.front().figures.size(), 100u);
}

TEST(Tiles, ThatLieStrewnAreNone) {
  const cv::Mat3b page = page_of_squares([](cv::Mat3b& on) {
    for (int i = 0; i < 20; ++i) on(cv::Rect(70 + 271 * i % 1340, 80 + 397 * i % 1040, 60, 60)) = green;
  });
  EXPECT_TRUE(tiles(page, find_surfaces(page, scale)).empty());
}

}  // namespace
}  // namespace frisket
