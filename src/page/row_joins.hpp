#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "opencv.hpp"
#include "page/zones.hpp"

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
  /// A row's three channels, one after the other: loops over them run on many pixels at a time.
  using Planes = std::array<std::vector<std::uint8_t>, 3>;

  void load(int y);
  Planes& planes(int y) { return rows_[static_cast<std::size_t>(y) % rows_.size()]; }
  void join_along();
  void join_below();
  void mark_steep_along(int y);

  const cv::Mat rgb_;
  ZoneRule rule_;
  int y_ = -1;
  std::array<Planes, 4> rows_;                        ///< y - 1 to y + 2
  std::vector<std::uint8_t> steady_, steady_before_;  ///< along y: the colour changes on as it came
  std::vector<std::uint8_t> along_;                   ///< the same along x
  std::vector<std::uint8_t> steep_, steep_before_;    ///< along x, at row y + 1 and y: a border runs along y
  std::vector<std::uint8_t> steep_down_;              ///< along y, at row y: a border runs along x
  std::vector<std::uint8_t> left_, above_, below_;
};

}  // namespace frisket
