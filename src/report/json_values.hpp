#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>

#include "frisket/geometry.hpp"

namespace frisket {

/// Keys stay in the order in which they were written, as the schemas list them.
using Json = nlohmann::ordered_json;

/// `value` rounded to `decimals`; whole numbers without a point, never -0; null where it is not finite.
Json json_number(double value, int decimals);

/// Millimetres to four decimals: a tenth of a micrometre, far below a pixel of any page.
Json json_mm(Length length);
Json json_mm(const std::optional<Length>& length);
/// Pixels to two decimals.
Json json_px(double pixels);
/// Dots or pixels per inch to two decimals.
Json json_ppi(double ppi);
Json json_ppi(const std::optional<double>& ppi);

/// {"x", "y", "width", "height"}; null where the rectangle is nowhere, that is without width and height.
Json json_mm(const Rect& rect);
Json json_px(const PixelRect& rect);
/// {"top", "right", "bottom", "left"} in millimetres.
Json json_mm(const Edges& edges);

/// Null where `text` is empty: not known.
Json json_text(std::string_view text);

/// {"name", "version"} of this program.
Json json_tool();

/// The document as UTF-8 with two-space indent and a newline at the end; bytes that are not UTF-8 are
/// replaced.
std::string json_document(const Json& json);

}  // namespace frisket
