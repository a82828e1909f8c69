#pragma once

#include <cstdint>
#include <limits>
#include <vector>

#include "page/zones/zones.hpp"

namespace frisket {

/// What is known of a zone while it grows. Plain numbers: on a photograph there is one for nearly every
/// pixel.
struct Growing {
  std::int64_t area = 0;
  int left = std::numeric_limits<int>::max(), top = left, right = 0, bottom = 0;
  int canvas_contact = 0, border = 0, sharp_border = 0;
  int first_x = left, first_y = left;  ///< its first pixel in raster order
  cv::Vec3d colours;                   ///< sum over its pixels

  cv::Point first() const { return {first_x, first_y}; }
  void begin_at(int x, int y) {
    if (y < first_y || (y == first_y && x < first_x)) first_x = x, first_y = y;
  }
  void add(int y, const Run& run, int contact, const cv::Vec3d& sum) {
    colours += sum;
    area += run.length();
    left = std::min(left, run.begin), right = std::max(right, run.end);
    top = std::min(top, y), bottom = std::max(bottom, y + 1);
    canvas_contact += contact;
    begin_at(run.begin, y);
  }
  void take_in(const Growing& part) {
    colours += part.colours;
    area += part.area;
    left = std::min(left, part.left), right = std::max(right, part.right);
    top = std::min(top, part.top), bottom = std::max(bottom, part.bottom);
    canvas_contact += part.canvas_contact;
    border += part.border, sharp_border += part.sharp_border;
    begin_at(part.first_x, part.first_y);
  }
  Zone zone() const {
    const cv::Vec3f mean = colours / static_cast<double>(area);
    return {area,        {cv::Point(left, top), cv::Point(right, bottom)}, mean, canvas_contact, border,
            sharp_border};
  }
};

/// A zone that has ended, and its first pixel in raster order.
struct NotedZone {
  Zone zone;
  cv::Point first;
};

/// Rows of an area, from `first` up to `last`.
struct Band {
  int first = 0, last = 0;
};

/// The zones of a band, in any order. Those that reach its first or last row are all there, since they may go
/// on in the next band.
struct BandZones {
  LabelMap label;                          ///< of the band's rows; -1 for none
  std::vector<Growing> zones;              ///< positions count from the area's corner
  std::vector<NotedZone> noted{};          ///< those that are not kept, but noted
  std::vector<std::uint8_t> joined_above;  ///< [x]: the first row's pixel belongs to the one above
};

/// Labels the rows of `band` in `area` of `rgb`, as label_zones() does all of them.
BandZones label_band(const cv::Mat& rgb, const cv::Rect& area, Band band, ZoneRule rule,
                     const KeptZones& kept);

}  // namespace frisket
