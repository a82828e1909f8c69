#include "checks/size_fits.hpp"

#include "page/placing/placing.hpp"

namespace frisket {
namespace {

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

}  // namespace frisket
