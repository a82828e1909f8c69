#include "report/page_picture.hpp"

#include <gtest/gtest.h>

#include <limits>

namespace frisket {
namespace {

constexpr double nothing = std::numeric_limits<double>::quiet_NaN();
constexpr double endless = std::numeric_limits<double>::infinity();

std::optional<PageCut> cut(const PixelRect& area) {
  Raster raster;
  raster.width = 30, raster.height = 20;
  raster.rgb.assign(30 * 20 * 3, 200);
  return page_cut(raster, area, 100, 100'000);
}

TEST(PageCut, KeepsToWholePixelsOfTheCanvas) {
  const auto found = cut({-5, 3.5, 12.2, 100});
  ASSERT_TRUE(found);
  EXPECT_EQ(found->area.x, 0);
  EXPECT_EQ(found->area.y, 3);
  EXPECT_EQ(found->area.width, 8);
  EXPECT_EQ(found->area.height, 17);
}

TEST(PageCut, IsEmptyWhereNothingOfThePageLies) {
  for (const PixelRect& area : {PixelRect{40, 0, 5, 5}, PixelRect{0, -9, 5, 5}, PixelRect{3, 3, 0, 9}})
    EXPECT_FALSE(cut(area));
}

/// Found by the fuzzer: fixtures/crashes/report.
TEST(PageCut, OfWhatIsNoNumberIsEmpty) {
  for (const PixelRect& area : {PixelRect{nothing, 0, 5, 5}, PixelRect{0, nothing, 5, 5},
                                PixelRect{0, 0, nothing, 5}, PixelRect{-endless, 0, endless, 5}})
    EXPECT_FALSE(cut(area));
  EXPECT_TRUE(cut({0, 0, endless, endless}));
}

}  // namespace
}  // namespace frisket
