#pragma once

#include <array>
#include <span>
#include <vector>

#include "opencv.hpp"
#include "page/resampling/kernels.hpp"

namespace frisket {

// A stretch of pixels that was enlarged `factor` times lies in a small linear space: every value is a mix of
// few picture pixels with weights that the filter, the factor and the phase fix. What is left of it after it
// is projected on that space is only rounding where the guess is right (Vázquez-Padín, Comesaña,
// Pérez-González, An SVD approach to forensic image resampling detection, EUSIPCO 2015, use the same space).
// One grid lies under the whole picture: a guess of factor and phase fixes the space of every stretch of it.
// So all stretches are asked together, phase by phase: at the true factor one phase leaves less than all
// others do, and at any other the phases are all alike.

/// Products of pixels `lag` columns apart, summed over the busiest rows of a strip of columns: all that
/// projections need to know of them.
struct Strip {
  int column = 0;  ///< of the picture, where the strip begins
  int rows = 0;    ///< summed over
  cv::Mat1d sums;  ///< lag by column: sums(d, p) = sum of y[p] y[p + d], each row without its mean
};

/// The strips of a picture, looked at along x: up to four of 128 columns. Within each the busiest 15 % of the
/// rows (24 at least) are taken; rows with clipped values (0 or 255) are left out where enough others remain.
/// `luma`: 0 to 255, at least 64 columns.
std::vector<Strip> busiest_strips(const cv::Mat1f& luma);

/// What one guess left over.
struct Fit {
  double residual = 1e9;  ///< root mean square of what is left, grey levels: 0.2 to 0.3 is rounding alone
  double dip = 1e9;       ///< the residual at the best phase over the median of all phases
  Kernel kernel = Kernel::bilinear;
};

/// Root mean square left over for `factor` (> 1) and `kernel` at each of `fit_phases` phases of the grid: at
/// phase k a picture pixel lies on column 0, less k / fit_phases of a picture pixel.
std::vector<double> residuals_by_phase(std::span<const Strip> strips, Kernel kernel, double factor);
inline constexpr int fit_phases = 12;

/// For each of two axes the kernel of `kernels` with the clearest dip at `factor`. Both are asked at once
/// because the spaces, which take most of the time to make, are the same for both.
std::array<Fit, 2> best_fits(const std::array<std::span<const Strip>, 2>& axes, double factor,
                             std::span<const Kernel> kernels);

}  // namespace frisket
