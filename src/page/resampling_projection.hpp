#pragma once

#include <span>
#include <vector>

#include "opencv.hpp"
#include "page/resampling_kernels.hpp"

namespace frisket {

// A row of pixels that was enlarged `factor` times lies in a small linear space: every value is a mix of few
// picture pixels with weights that the filter, the factor and the phase fix. What is left of a row after it
// is projected on that space is only rounding where the guess is right, and more where the factor is off by a
// picture pixel over the window (Vázquez-Padín, Comesaña, Pérez-González, An SVD approach to forensic image
// resampling detection, EUSIPCO 2015, use the same space).

/// The covariance of the busiest rows of a stretch of columns: all that projections need to know of them.
struct RowWindow {
  cv::Mat1d covariance;  ///< length x length, sum over the rows of x^T x, each row without its mean
  int rows = 0;          ///< how many
};

/// Up to `count` windows of `length` columns where second differences are largest. Within each the busiest
/// 15 % of the rows (24 at least) are taken; rows with clipped values (0 or 255) are left out where enough
/// others remain. `luma`: rows to be looked at along x, 0 to 255. Empty where the picture is narrower.
std::vector<RowWindow> busiest_windows(const cv::Mat1f& luma, int length, int count);

/// What one guess left over.
struct Fit {
  double residual = 1e9;  ///< root mean square of what is left, grey levels: about 0.3 is rounding alone
  double dip = 1e9;       ///< the residual over that of factors one picture pixel longer and shorter
  Kernel kernel = Kernel::bilinear;
};

/// Root mean square left over for `factor` (> 1) and `kernel`, at the best phase of each window; the median
/// over the windows, which all have the same length. `refine` searches the phase to a 1/8 of the first grid.
double projection_residual(std::span<const RowWindow> windows, Kernel kernel, double factor, bool refine);

/// The kernel of `kernels` with the clearest dip at `factor`.
Fit best_fit(std::span<const RowWindow> windows, double factor, std::span<const Kernel> kernels);

}  // namespace frisket
