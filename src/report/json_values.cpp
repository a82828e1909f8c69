#include "report/json_values.hpp"

#include <cmath>

#include "frisket/version.hpp"

namespace frisket {

Json json_number(double value, int decimals) {
  const double factor = std::pow(10.0, decimals);
  const double rounded = std::round(value * factor) / factor;
  if (!std::isfinite(rounded)) return nullptr;
  // Below 2^53 every whole number has an exact integer, which also rids us of 3300.0 and -0.0.
  if (rounded == std::trunc(rounded) && std::abs(rounded) < 9007199254740992.0)
    return static_cast<std::int64_t>(rounded);
  return rounded;
}

Json json_mm(Length length) { return json_number(length.mm(), 4); }
Json json_mm(const std::optional<Length>& length) { return length ? json_mm(*length) : Json(nullptr); }
Json json_px(double pixels) { return json_number(pixels, 2); }
Json json_ppi(double ppi) { return json_number(ppi, 2); }
Json json_ppi(const std::optional<double>& ppi) { return ppi ? json_ppi(*ppi) : Json(nullptr); }

Json json_mm(const Rect& rect) {
  if (rect.width <= Length() && rect.height <= Length()) return nullptr;
  return {{"x", json_mm(rect.x)},
          {"y", json_mm(rect.y)},
          {"width", json_mm(rect.width)},
          {"height", json_mm(rect.height)}};
}

Json json_px(const PixelRect& rect) {
  if (rect.width <= 0 && rect.height <= 0) return nullptr;
  return {{"x", json_px(rect.x)},
          {"y", json_px(rect.y)},
          {"width", json_px(rect.width)},
          {"height", json_px(rect.height)}};
}

Json json_mm(const Edges& edges) {
  Json json = Json::object();
  for (const Edge edge : all_edges) json[std::string(edge_name(edge))] = json_mm(edges.at(edge));
  return json;
}

Json json_text(std::string_view text) { return text.empty() ? Json(nullptr) : Json(std::string(text)); }

Json json_tool() { return {{"name", "frisket"}, {"version", version}}; }

std::string json_document(const Json& json) {
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace frisket
