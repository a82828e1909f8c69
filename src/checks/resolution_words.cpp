#include "checks/resolution_words.hpp"

#include <algorithm>
#include <cmath>

namespace frisket {
namespace {

/// Factors are measured to about 1 %: a limit missed by less than twice that is met.
constexpr double measuring_share = 0.02;
/// Axes that differ by less are one number to a reader.
constexpr double same_share = 0.05;

/// "1,260": whole pixels with a comma between thousands.
std::string count_text(double count) {
  std::string text = std::to_string(std::llround(count));
  for (std::size_t at = text.size(); at > 3; at -= 3) text.insert(at - 3, ",");
  return text;
}

}  // namespace

bool below_ppi(double ppi, double limit) { return ppi < limit * (1.0 - measuring_share); }

std::string ppi_text(double ppi) { return std::to_string(std::llround(ppi)); }

std::string ppi_text(const ImageResolution& image) {
  const auto [low, high] = std::minmax(*image.ppi_x, *image.ppi_y);
  return high < low * (1.0 + same_share) ? ppi_text(low)
                                         : ppi_text(*image.ppi_x) + " x " + ppi_text(*image.ppi_y);
}

std::string pixels_text(const Rect& box, double ppi) {
  constexpr double exact = 1e-6;  // pixels: 900.0000001 is 900
  const auto pixels = [&](Length side) { return count_text(std::ceil(side.inches() * ppi - exact)); };
  return pixels(box.width) + " x " + pixels(box.height) + " px";
}

Finding ppi_finding(std::string_view kind, Severity severity, const Rect& box) {
  Finding finding;
  finding.kind = kind;
  finding.severity = severity;
  finding.box = finding.whole = box;
  return finding;
}

}  // namespace frisket
