#pragma once

#include <optional>
#include <vector>

#include "opencv.hpp"
#include "page/resampling_projection.hpp"
#include "page/resampling_spectrum.hpp"

namespace frisket {

/// A factor that was verified by projection, well or less well.
struct Trial {
  double factor = 1;
  double height = 0;  ///< of its spectrum peak
  Fit fit;
};

/// All that one axis of a picture tells about its enlargement, looked at along x.
struct AxisEvidence {
  std::optional<double>
      repeated;  ///< factor where pixels were repeated: told directly, nothing else is filled
  PeriodSpectrum spectrum;
  BlockGrid grid;
  std::vector<RowWindow> short_windows, long_windows;  ///< 64 and 96 columns
  double fine_detail = 0;      ///< energy at 0.42 to 0.5 cycles a pixel over what rounding alone leaves there
  double fine_slope = 1;       ///< energy at 0.25 to 0.33 cycles a pixel over that
  std::optional<Trial> guess;  ///< the factor with the deepest dip that leaves no more than rounding
  std::optional<Trial> found;  ///< the factor this axis stands for, projection and spectrum agreeing

  /// True where there is detail that only pixels as fine as the page's own can hold.
  bool has_page_detail() const;
  /// The windows a factor is verified on: large factors need long ones.
  const std::vector<RowWindow>& windows(double factor) const;
};

inline constexpr double clear_dip = 0.62;       // residual over that of the neighbouring factors
inline constexpr double rounding_floor = 0.60;  // grey levels: what rounding to 8 bits can leave

/// `luma`: 0 to 255, at least 64 x 24.
AxisEvidence look_along(const cv::Mat1f& luma);

/// How well `factor`, which the other axis found, fits this one.
Trial look_for(const AxisEvidence& axis, double factor);

}  // namespace frisket
