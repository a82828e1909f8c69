#include "page/placing/size_fits.hpp"

#include <array>
#include <cmath>

#include "page/placing/placing.hpp"

namespace frisket {
namespace {

/// Resolutions that pages are commonly rendered at (common practice, no source).
constexpr std::array usual_dpi{72.0,  96.0,  100.0, 150.0, 200.0, 240.0, 250.0,
                               300.0, 350.0, 400.0, 450.0, 600.0, 1200.0};
/// Resolutions nearer than this are the same.
constexpr double same_dpi = 0.01;

bool close_along(Length found, Length wanted, double dpi) {
  const Length share = std::max(wanted * 0.01, Length::from_inches(1.0 / dpi));
  return abs(found - wanted) <= std::min(placing_tolerance(dpi), share);
}

}  // namespace

Size full_size(const Job& job) {
  return {job.trim.width + job.bleed.left + job.bleed.right,
          job.trim.height + job.bleed.top + job.bleed.bottom};
}

Size turned(const Size& size) { return {size.height, size.width}; }

Size scaled(const Size& size, double factor) { return {size.width * factor, size.height * factor}; }

bool close(const Size& found, const Size& wanted, double dpi) {
  return close_along(found.width, wanted.width, dpi) && close_along(found.height, wanted.height, dpi);
}

bool fits(const Size& found, const Job& job, double dpi) {
  return close(found, full_size(job), dpi) || close(found, job.trim, dpi);
}

std::optional<double> other_fitting_dpi(int width, int height, double dpi, const Job& job) {
  for (const double other : usual_dpi)
    if (std::abs(other / dpi - 1.0) > same_dpi &&
        fits({Length::from_inches(width / other), Length::from_inches(height / other)}, job, other))
      return other;
  return std::nullopt;
}

std::optional<Length> even_margin(const Size& found, const Job& job, double dpi) {
  const Length x = (found.width - job.trim.width) / 2.0, y = (found.height - job.trim.height) / 2.0;
  if (abs(x - y) > placing_tolerance(dpi) / 2.0) return std::nullopt;
  return (x + y) / 2.0;
}

}  // namespace frisket
