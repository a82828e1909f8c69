// Grain: what was drawn is told from what was photographed, also where JPEG rings beside it.
#include "page/grounds/grain.hpp"

#include <gtest/gtest.h>

#include "page/grounds/grounds.hpp"
#include "planted_page.hpp"

namespace frisket {
namespace {

// 3 x 2 in: whole pixels at 300 dpi.
constexpr planted::Canvas card{0, 0, 76.2, 50.8};

Raster stripes(double width_mm, int quality) {
  std::string drawn = planted::rect(-1, -1, 80, 54, "#e6edf0");
  for (double x = 1.3; x < 76.2; x += 2 * width_mm) drawn += planted::rect(x, -1, width_mm, 54, "#bad4b8");
  return planted::as_jpeg(planted::render(drawn, 300, card), quality);
}

TEST(Grain, OfStripesOnAJpegPageIsThatOfFields) {
  for (const int quality : {80, 85, 90})
    for (const double width_mm : {1.4, 2.0, 2.7, 3.3}) {
      const Raster page = stripes(width_mm, quality);
      const SurfaceMap map = find_surfaces(view_of(page), {300 / 25.4, true});
      std::int64_t fields = 0;
      for (const Surface& surface : map.surfaces)
        fields += surface.kind == Surface::Kind::field ? surface.area : 0;
      EXPECT_GE(static_cast<double>(fields), 0.85 * map.label.rows * map.label.cols)
          << quality << " " << width_mm;
    }
}

}  // namespace
}  // namespace frisket
