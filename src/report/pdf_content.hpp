#pragma once

#include <string>
#include <string_view>

#include "report/guide.hpp"

namespace frisket {

/// The operators of a PDF page that draw a guide (ISO 32000-1, 8 and 9): each layer as marked content that
/// belongs to the optional content /ID, its id. `points` are user space units in a millimetre. The font is
/// /F1, Helvetica.
std::string pdf_content(const GuideDrawing& guide, double points);

/// A number as PDF wants it, without exponent, rounded to `decimals`, whatever the locale.
std::string pdf_number(double value, int decimals = 4);

}  // namespace frisket
