#include "job/resolution.hpp"

#include <cctype>
#include <cmath>
#include <numbers>

namespace frisket {
namespace {

/// Rulings from coarse screen printing to the finest offset; common are 85 (newsprint) to 200 lines per inch
/// (common practice, no source).
constexpr double least_screen = 20, most_screen = 500;
/// Pixels per screen line: 2 for colour, never below the square root of 2, the diagonal of a 45 degree
/// screen (teaching sheet and trade articles; common practice).
constexpr double usual_quality = 2.0, least_quality = 1.41, most_quality = 4.0;
constexpr Length nearest_view = Length::from_mm(50), farthest_view = Length::from_mm(1e6);
constexpr double arcminute = std::numbers::pi / (180.0 * 60.0);

/// "1 m" or "1.5m", which makes sense only here; empty for anything else.
std::optional<Length> metres(std::string_view text) {
  if (!text.ends_with('m')) return std::nullopt;
  text.remove_suffix(1);
  while (text.ends_with(' ')) text.remove_suffix(1);
  if (text.empty() || std::isdigit(static_cast<unsigned char>(text.back())) == 0) return std::nullopt;
  return parse_length(text, Unit::centimetre) * 100.0;
}

Length read_distance(const Field& field) {
  const auto far = at_place(field, [&] {
    return field.value.is_string() ? metres(field.value.get_ref<const std::string&>()) : std::nullopt;
  });
  if (!far) return read_length(field, nearest_view, farthest_view);
  if (*far < nearest_view || *far > farthest_view)
    reject(field, "a distance from 5 cm to 1000 m, like \"1 m\"");
  return *far;
}

double of_screen(const Field& resolution) {
  const double screen = read_number(resolution.child("screen"), least_screen, most_screen);
  if (!resolution.value.contains("quality")) return screen * usual_quality;
  return screen * read_number(resolution.child("quality"), least_quality, most_quality);
}

double of_distance(const Field& resolution) {
  const Length distance = read_distance(resolution.child("viewing_distance"));
  return 1.0 / (2.0 * distance.inches() * std::tan(arcminute / 2.0));
}

}  // namespace

std::optional<Resolution> read_derived_resolution(const Field& resolution) {
  const auto has = [&](const char* key) { return resolution.value.contains(key); };
  const int ways =
      (has("screen") ? 1 : 0) + (has("viewing_distance") ? 1 : 0) + (has("wanted") || has("least") ? 1 : 0);
  if (ways > 1)
    throw Error(place(resolution.layer, resolution.key) +
                " says it in more than one way; keep \"wanted\" and \"least\", or \"screen\", or "
                "\"viewing_distance\"");
  if (has("quality") && !has("screen"))
    throw Error(place(resolution.layer, resolution.key + ".quality") +
                " needs \"screen\" beside it, in lines per inch");
  if (!has("screen") && !has("viewing_distance")) return std::nullopt;
  const double wanted = has("screen") ? of_screen(resolution) : of_distance(resolution);
  return Resolution{wanted, wanted * least_share};
}

}  // namespace frisket
