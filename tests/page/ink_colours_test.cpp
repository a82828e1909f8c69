#include "page/elements/ink_colours.hpp"

#include <gtest/gtest.h>

namespace frisket {
namespace {

constexpr InkSpread spread{6, 24};
constexpr double least_area = 200.0;

/// Zones of one grey each, and whether each is ink.
struct Greys {
  std::vector<Zone> zones;
  std::vector<std::int64_t> area;

  void add(float grey, std::int64_t pixels) {
    Zone zone;
    zone.colour = cv::Vec3f::all(grey);
    zones.push_back(zone);
    area.push_back(pixels);
  }
  std::vector<bool> ink() const {
    std::vector<bool> ink(zones.size(), true);
    keep_ink_colours(zones, area, spread, least_area, ink);
    return ink;
  }
};

TEST(InkColours, AreKeptBesideEachOther) {
  Greys page;
  page.add(237, 41000);  // cream
  page.add(253, 9000);   // white
  EXPECT_EQ(page.ink(), (std::vector<bool>{true, true}));
}

TEST(InkColours, AreKeptInWhateverOrderTheyStand) {
  Greys page;
  page.add(200, 900);
  page.add(220, 1000);
  page.add(240, 1100);
  EXPECT_EQ(page.ink(), (std::vector<bool>{true, true, true}));
}

TEST(InkColours, ScatterLittle) {
  Greys page;
  for (int grey = 100; grey <= 148; grey += 8) page.add(static_cast<float>(grey), 900);
  for (const bool is_ink : page.ink()) EXPECT_FALSE(is_ink);
}

TEST(InkColours, MakeUpAsMuchAsIsAskedFor) {
  Greys page;
  page.add(20, 199);
  page.add(90, 200);
  EXPECT_EQ(page.ink(), (std::vector<bool>{false, true}));
}

}  // namespace
}  // namespace frisket
