#pragma once

#include <array>
#include <optional>
#include <vector>

#include "opencv.hpp"
#include "page/resampling/projection.hpp"
#include "page/resampling/spectrum.hpp"

namespace frisket {

/// All that one axis of a picture shows before factors are tried.
struct AxisEvidence {
  std::optional<double>
      repeated;  ///< factor where pixels were repeated: told directly, nothing else is filled
  PeriodSpectrum spectrum;
  BlockGrid grid;
  std::vector<Strip> strips;
  double fine_detail = 0;  ///< energy at 0.42 to 0.5 cycles a pixel over what rounding alone leaves there
  double calm_detail = 0;  ///< the same where there is least of it: noise is everywhere, detail is not
  double fine_slope = 1;   ///< energy at 0.25 to 0.33 cycles a pixel over that at 0.42 to 0.5
  double near_slope = 1;   ///< energy at 0.34 to 0.41 cycles a pixel over that: 1 is noise

  /// True where there is detail that only pixels as fine as the page's own can hold.
  bool has_page_detail() const;
};

/// `luma`: 0 to 255, at least 64 x 24.
AxisEvidence look_along(const cv::Mat1f& luma);

/// The factors that its peaks and its block grid suggest, highest peak first.
std::vector<Candidate> suggested_by(const AxisEvidence& axis);

/// How well `factor` fits each of two axes, by the kernel that makes most of it. All kernels are tried only
/// where the first show anything.
std::array<Fit, 2> fits_of(const AxisEvidence& x, const AxisEvidence& y, double factor);

}  // namespace frisket
