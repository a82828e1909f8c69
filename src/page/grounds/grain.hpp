#pragma once

#include <vector>

#include "page/zones/scale.hpp"
#include "page/zones/zones.hpp"

namespace frisket {

/// Second differences inside a zone: how many were looked at along x and along y, and how many were more than
/// rounding.
struct Grain {
  int across = 0, down = 0, grainy = 0;
  int even_across = 0, even_down = 0;  ///< those that are none at all
  int calm = 0;                        ///< those that are small
  int flat = 0;                        ///< those of three pixels of one colour

  Grain& operator+=(const Grain& other) {
    across += other.across, down += other.down, grainy += other.grainy, even_across += other.even_across,
        even_down += other.even_down, calm += other.calm, flat += other.flat;
    return *this;
  }

  int even() const { return even_across + even_down; }

  /// As of what was drawn, and not photographed.
  bool is_smooth(const Scale& scale) const;
  /// The same of a narrow thing on a JPEG page, into which letters and borders ring.
  bool is_smooth_but_for_ringing() const;
  /// As of what was drawn on a JPEG page, where a picture out of focus is smooth, too.
  bool is_calm() const;
  /// As of a gradient in steps, whose borders alone are not.
  bool is_mostly_flat() const;
};

/// The grain of each zone of `rgb`, from every fourth pixel.
std::vector<Grain> grains_of(const cv::Mat& rgb, const ZoneMap& zones, const Scale& scale);

}  // namespace frisket
