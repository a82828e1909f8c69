#pragma once

#include <cstdint>
#include <vector>

#include "opencv.hpp"
#include "page/zones/zones.hpp"

namespace frisket {

/// Which pixels of a row belong together, row after row: 1 where they do, 0 where not.
class RowJoins {
 public:
  /// Begins before row `first` of `area`.
  RowJoins(const cv::Mat& rgb, const cv::Rect& area, ZoneRule rule, int first);

  /// Goes to the next row.
  void next();
  /// [x]: with the pixel before. The first is 0.
  const std::vector<std::uint8_t>& left() const { return left_; }
  /// [x]: with the pixel above. All are 0 in the first row of the area.
  const std::vector<std::uint8_t>& above() const { return above_; }
  /// [x]: with the pixel below. All are 0 in its last row.
  const std::vector<std::uint8_t>& below() const { return below_; }

 private:
  void join_along();
  void join_below();
  /// Its samples; null outside the area.
  const std::uint8_t* row(int y) const;

  const cv::Mat rgb_;
  ZoneRule rule_;
  int y_ = -1;
  std::vector<std::uint8_t> left_, above_, below_;
};

}  // namespace frisket
