#pragma once

#include "checks/wording.hpp"
#include "frisket/finding.hpp"

// What findings about pictures and about line art say alike.
namespace frisket {

/// True where a resolution is lower than a limit by more than it can be measured to, about 1 % each.
bool below_ppi(double ppi, double limit);
/// "96", and "96 x 120" where the axes differ by more than a reader cares for. Both have to be known.
std::string ppi_text(const ImageResolution& image);
std::string ppi_text(double ppi);
/// The width and height in pixels at `ppi`, rounded up: "1,260 x 900 px".
std::string pixels_text(const Rect& box, double ppi);
Finding ppi_finding(std::string_view kind, Severity severity, const Rect& box);

}  // namespace frisket
