#include "raster/resolution.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace frisket {
namespace {

constexpr double least_dpi = 10.0;     // below: the default of some writer, never a page
constexpr double most_dpi = 10'000.0;  // beyond any imagesetter
constexpr double same_within = 0.01;   // part of the larger one
// PNG keeps whole pixels per metre: 300 dpi becomes 11811 /m = 299.9994 dpi. Half a pixel per metre:
constexpr double rounding_dpi = 0.5 * 0.0254;

bool same(double a, double b) { return std::abs(a - b) <= same_within * std::max(a, b); }

bool believable(double dpi) { return dpi >= least_dpi && dpi <= most_dpi; }

/// The whole number that the file's own unit could not hold exactly.
double unrounded(double dpi) {
  const double whole = std::round(dpi);
  return std::abs(dpi - whole) <= rounding_dpi ? whole : dpi;
}

std::string text(double dpi) {
  if (!std::isfinite(dpi)) return "no number";
  char buffer[32];
  std::snprintf(buffer, sizeof buffer, "%.6g dpi", dpi);
  return buffer;
}

/// One statement, or why it is not to be believed.
std::optional<double> judged(const StatedResolution& stated, std::vector<std::string>& notes) {
  if (!believable(stated.x) || !believable(stated.y)) {
    const double culprit = believable(stated.x) ? stated.y : stated.x;
    notes.push_back(stated.where + " gives " + text(culprit) +
                    " as the resolution, which cannot be meant; ignored");
    return std::nullopt;
  }
  if (!same(stated.x, stated.y)) {
    notes.push_back(stated.where + " gives " + text(stated.x) + " across and " + text(stated.y) +
                    " down; the resolution counts as unknown");
    return std::nullopt;
  }
  return unrounded((stated.x + stated.y) / 2.0);
}

}  // namespace

std::optional<double> agreed_dpi(const std::vector<StatedResolution>& stated,
                                 std::vector<std::string>& notes) {
  std::optional<double> agreed;
  const StatedResolution* first = nullptr;
  for (const StatedResolution& one : stated) {
    const std::optional<double> dpi = judged(one, notes);
    if (!dpi) continue;
    if (agreed && !same(*agreed, *dpi)) {
      notes.push_back(first->where + " says " + text(*agreed) + ", " + one.where + " " + text(*dpi) +
                      "; the resolution counts as unknown");
      return std::nullopt;
    }
    if (!agreed) first = &one;
    agreed = agreed.value_or(*dpi);
  }
  return agreed;
}

}  // namespace frisket
