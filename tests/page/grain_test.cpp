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

/// How much of the page lies in fields, 0 to 1.
double share_of_fields(const Raster& page) {
  const SurfaceMap map = find_surfaces(view_of(page), {300 / 25.4, true});
  std::int64_t fields = 0;
  for (const Surface& surface : map.surfaces)
    fields += surface.kind == Surface::Kind::field ? surface.area : 0;
  return static_cast<double>(fields) / (static_cast<double>(page.width) * page.height);
}

TEST(Grain, OfStripesOnAJpegPageIsThatOfFields) {
  for (const int quality : {80, 85, 90})
    for (const double width_mm : {1.4, 2.0, 2.7, 3.3})
      EXPECT_GE(share_of_fields(stripes(width_mm, quality)), 0.85) << quality << " " << width_mm;
}

TEST(Grain, OfStripesThatLettersRingIntoIsThatOfFields) {
  // At an angle to the blocks of the JPEG each stripe rings, and those that a letter crosses ring more.
  std::string drawn = planted::rect(-1, -1, 80, 54, "#efe9dc") + "<g transform='rotate(45)'>";
  for (double x = -60; x < 120; x += 6.02) drawn += planted::rect(x, -60, 3.5, 160, "#a09c94");
  drawn += "</g>" + planted::text(4, 38, 16, "Pilot House at nine", "font-weight='bold' fill='#3d1f6e'");
  for (const int quality : {80, 90})
    EXPECT_GE(share_of_fields(planted::as_jpeg(planted::render(drawn, 300, card), quality)), 0.88) << quality;
}

}  // namespace
}  // namespace frisket
