#include "frisket/units.hpp"

#include <array>
#include <charconv>
#include <cmath>
#include <numeric>

#include "frisket/error.hpp"

namespace frisket {
namespace {

struct UnitName {
  std::string_view name;
  Unit unit;
};
constexpr std::array<UnitName, 4> unit_names{
    {{"mm", Unit::millimetre}, {"cm", Unit::centimetre}, {"in", Unit::inch}, {"pt", Unit::point}}};

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  return text;
}

/// `value` with a fixed number of decimals.
std::string rounded(double value, int decimals) {
  std::array<char, 400> digits{};  // the largest double has 309 digits before the point
  const auto [end, error] =
      std::to_chars(digits.data(), digits.data() + digits.size(), value, std::chars_format::fixed, decimals);
  return {digits.data(), end};
}

}  // namespace

std::string_view unit_name(Unit unit) {
  for (const UnitName& known : unit_names)
    if (known.unit == unit) return known.name;
  return "";
}

Unit parse_unit(std::string_view name) {
  for (const UnitName& known : unit_names)
    if (known.name == name) return known.unit;
  throw Error("'" + std::string(name) + "' is not a unit; use mm, cm, in or pt");
}

Length make_length(double value, Unit unit) {
  switch (unit) {
    case Unit::millimetre:
      return Length::from_mm(value);
    case Unit::centimetre:
      return Length::from_mm(value * 10.0);
    case Unit::inch:
      return Length::from_inches(value);
    case Unit::point:
      return Length::from_points(value);
  }
  return {};
}

double in_unit(Length length, Unit unit) {
  switch (unit) {
    case Unit::millimetre:
      return length.mm();
    case Unit::centimetre:
      return length.mm() / 10.0;
    case Unit::inch:
      return length.inches();
    case Unit::point:
      return length.points();
  }
  return 0.0;
}

Length parse_length(std::string_view text, Unit bare) {
  const std::string_view whole = trimmed(text);
  double value = 0.0;
  const auto [rest, error] = std::from_chars(whole.data(), whole.data() + whole.size(), value);
  const std::string_view unit = trimmed(whole.substr(static_cast<std::size_t>(rest - whole.data())));
  bool known = unit.empty();
  for (const UnitName& candidate : unit_names)
    if (candidate.name == unit) bare = candidate.unit, known = true;
  const Length length = make_length(value, bare);
  if (error != std::errc() || !known || !std::isfinite(length.mm()))
    throw Error("'" + std::string(text) + "' is not a length; write it like 11in, 279.4mm, 27.94cm or 9pt");
  return length;
}

std::string to_text(Length length, Unit unit) {
  const double value = in_unit(length, unit);
  const int decimals = unit == Unit::point ? 1 : unit == Unit::inch || std::abs(value) < 100.0 ? 2 : 1;
  std::string text = rounded(value, decimals);
  while (text.back() == '0' && text[text.size() - 2] != '.') text.pop_back();
  if (text == "-0.0") text = "0.0";
  return text + " " + std::string(unit_name(unit));
}

std::string to_exact_text(Length length, Unit unit) {
  const int decimals = unit == Unit::millimetre ? 4 : unit == Unit::point ? 3 : 5;
  const double value = in_unit(length, unit);
  // A hair outwards, so that the last bit of a double does not settle how a half is rounded.
  std::string text = rounded(value + std::copysign(1e-9, value), decimals);
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  if (text == "-0") text = "0";
  return text + " " + std::string(unit_name(unit));
}

std::optional<std::string> to_inch_fraction(Length length) {
  const double parts = length.inches() * 32.0;
  if (!(parts > -0.00032 && parts < 1e9) || std::abs(parts - std::round(parts)) > 0.00032)
    return std::nullopt;
  const long whole = std::lround(parts) / 32, rest = std::lround(parts) % 32;
  if (rest == 0) return std::to_string(whole);
  const long common = std::gcd(rest, 32L);
  return (whole > 0 ? std::to_string(whole) + " " : "") + std::to_string(rest / common) + "/" +
         std::to_string(32 / common);
}

}  // namespace frisket
