#include "job/trim.hpp"

#include "frisket/sizes.hpp"
#include "job/nearest.hpp"
#include "job/size_table.hpp"

namespace frisket {
namespace {

struct Sides {
  std::string_view width, height;
};

/// "11x8.5in" taken apart at its cross ("x" or "×"); empty where it does not start with a number.
std::optional<Sides> sides_of(std::string_view text) {
  while (text.starts_with(' ')) text.remove_prefix(1);
  if (text.empty() || std::string_view("0123456789.-+").find(text[0]) == std::string_view::npos)
    return std::nullopt;
  for (const std::string_view cross : {"x", "X", "×"})
    if (const std::size_t at = text.find(cross); at != std::string_view::npos)
      return Sides{text.substr(0, at), text.substr(at + cross.size())};
  return std::nullopt;
}

/// The unit a length ends in.
std::optional<Unit> unit_at_end(std::string_view text) {
  while (text.ends_with(' ')) text.remove_suffix(1);
  for (const Unit unit : {Unit::millimetre, Unit::centimetre, Unit::inch, Unit::point})
    if (text.ends_with(unit_name(unit))) return unit;
  return std::nullopt;
}

std::optional<Unit> unit_of_sides(const Sides& sides) {
  const auto second = unit_at_end(sides.height);
  return second ? second : unit_at_end(sides.width);
}

std::vector<std::string> all_names() {
  std::vector<std::string> names;
  for (const TableSize& size : size_table()) names.push_back(size.named.name);
  return names;
}

Size require_range(const Field& field, const Size& size) {
  const auto fits = [](Length side) { return side >= least_side && side <= most_side; };
  if (!fits(size.width) || !fits(size.height))
    reject(field, "two sides from " + to_exact_text(least_side, field.layer.bare) + " to " +
                      to_exact_text(most_side, field.layer.bare));
  return size;
}

Size read_size_text(const Field& field) {
  const std::string text = read_text(field);
  if (const auto sides = sides_of(text)) {
    const Unit unit = unit_of_sides(*sides).value_or(field.layer.bare);
    return at_place(field, [&] {
      return Size{parse_length(sides->width, unit), parse_length(sides->height, unit)};
    });
  }
  if (const auto named = find_named_size(text)) return *named;
  const auto near = nearest(text, all_names());
  reject(field,
         "two lengths like 11x8.5in or 210x297mm, or a named size like \"A4 landscape\", \"letter\" or "
         "\"DL\"" +
             (near ? "; did you mean \"" + *near + "\"?" : ""));
}

}  // namespace

Size read_size(const Field& field) {
  if (field.value.is_string()) return require_range(field, read_size_text(field));
  if (!field.value.is_array() || field.value.size() != 2)
    reject(field, "width and height as [11, 8.5], \"11x8.5in\" or a named size like \"A4 landscape\"");
  const auto sides = read_lengths(field, 2, least_side, most_side);
  return {sides[0], sides[1]};
}

std::optional<Unit> unit_of_size(const nlohmann::json& value) {
  if (value.is_array()) {
    for (const auto& side : value)
      if (const auto unit = side.is_string() ? unit_at_end(side.get<std::string>()) : std::nullopt)
        return unit;
    return std::nullopt;
  }
  if (!value.is_string()) return std::nullopt;
  const std::string text = value.get<std::string>();
  if (const auto sides = sides_of(text)) return unit_of_sides(*sides);
  const TableSize* named = find_table_size(split_lie(text).name);
  return named == nullptr ? std::nullopt : std::optional(named->unit);
}

}  // namespace frisket
