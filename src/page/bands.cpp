#include "page/bands.hpp"

namespace frisket {
namespace {

/// Of the zone's pixels; the rest are borders, and what type leaves over.
constexpr double made_of_bands = 0.75;

}  // namespace

bool is_banded(const cv::Mat& rgb, const ZoneMap& zones, int number, double least_area) {
  const Zone& whole = zones.zones[static_cast<std::size_t>(number)];
  const KeptZones kept{[&](const Zone& zone) { return static_cast<double>(zone.area) >= least_area; },
                       static_cast<int>(least_area)};
  const ZoneMap flat = label_zones(rgb, whole.box, {0, 0}, kept);
  // A flat zone lies wholly in a zone of looser rule, or wholly outside.
  double covered = 0;
  for (int y = 0; y < flat.label.rows; ++y)
    for (const Run& run : flat.label.row(y))
      if (zones.label(y + whole.box.y, run.begin + whole.box.x) == number) covered += run.length();
  return covered >= made_of_bands * static_cast<double>(whole.area);
}

}  // namespace frisket
