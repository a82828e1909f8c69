// Seams: nothing is left between two fields that meet, and what lies over the seam is left to the elements.
#include "page/grounds/seams.hpp"

#include <gtest/gtest.h>

#include "planted_page.hpp"

namespace frisket {
namespace {

// 2.5 x 1.5 in: whole pixels at 300 dpi, so that librsvg neither scales nor centres the drawing.
constexpr planted::Canvas card{0, 0, 63.5, 38.1};

/// Pixels of no surface in a band of the page, rows `from` to `to`.
int left_between(const Raster& raster, int from, int to) {
  const SurfaceMap map = find_surfaces(view_of(raster), {300 / 25.4, raster.lossy});
  int left = 0;
  for (int y = from; y < to; ++y)
    for (int x = 0; x < raster.width; ++x) left += map.label(y, x) == 0;
  return left;
}

Raster two_fields(const std::string& over) {
  return planted::render(planted::rect(30.07, -1, 40, 42, "#7cb069") + over, 300, card);
}

TEST(Seams, LeaveNothingBetweenTwoFields) { EXPECT_EQ(left_between(two_fields(""), 0, 450), 0); }

TEST(Seams, LeaveNothingBetweenTwoFieldsOfAJpegPage) {
  for (const int quality : {80, 85, 95})
    EXPECT_EQ(left_between(planted::as_jpeg(two_fields(""), quality), 0, 450), 0) << quality;
}

TEST(Seams, LeaveNothingWhereverTheEdgeLiesInABlock) {
  constexpr int block = 8;  // px (ITU-T T.81)
  const std::vector<std::pair<std::string, std::string>> colours{{"#2e86aa", "#ffffff"},
                                                                 {"#1e3a5f", "#f6e89d"}};
  for (const auto& [left, right] : colours)
    for (int at = 0; at < block; ++at) {
      const std::string field = planted::rect((352 + at) * 25.4 / 300, -1, 60, 42, right);
      const Raster page = planted::render(planted::rect(-1, -1, 66, 42, left) + field, 300, card);
      EXPECT_EQ(left_between(planted::as_jpeg(page, 85), 0, 450), 0) << left << " " << at;
    }
}

TEST(Seams, TakeNoBarOfAThirdColourThatLiesOverThem) {
  const std::string bar =
      planted::rect(29.7, 15, 0.8, 8, "#c8be78");  // none of its channels is outside of theirs
  const std::string fields =
      planted::rect(-1, -1, 66, 42, "#1e3c5f") + planted::rect(30.07, -1, 40, 42, "#ffffff");
  const Raster page = planted::as_jpeg(planted::render(fields + bar, 300, card), 95);
  EXPECT_GE(left_between(page, 177, 272), 8 * 94);
}

TEST(Seams, TakeNoLetterThatLiesOverThem) {
  const Raster page = planted::as_jpeg(two_fields(planted::rect(29, 15, 2, 2, "#000000")), 85);
  EXPECT_GE(left_between(page, 179, 199), 20 * 20);
  EXPECT_EQ(left_between(page, 0, 160), 0);
}

}  // namespace
}  // namespace frisket
