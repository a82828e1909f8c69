#include "job/field.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>

#include "job/nearest.hpp"

namespace frisket {
namespace {

using nlohmann::json;

/// Values in messages are cut here: enough to be recognised.
constexpr std::size_t most_shown = 60;

/// "folds" is --fold and "fold_safe" --fold-safe on the command line.
std::string flag_name(const std::string& key) {
  std::string name = "--" + (key.starts_with("folds") ? "fold" + key.substr(5) : key);
  std::ranges::replace(name, '_', '-');
  std::ranges::replace(name, '.', '-');
  return name;
}

std::string shown(const json& value) {
  std::string text = value.dump(-1, ' ', false, json::error_handler_t::replace);
  if (text.size() <= most_shown) return text;
  std::size_t cut = most_shown;
  while ((static_cast<unsigned char>(text[cut]) & 0xC0) == 0x80) --cut;  // not inside a UTF-8 letter
  return text.substr(0, cut) + "…";
}

std::string number_text(double number) {
  std::array<char, 32> digits{};
  const auto [end, error] = std::to_chars(digits.data(), digits.data() + digits.size(), number);
  return {digits.data(), end};
}

/// The number of a JSON number, or of a flag's text; empty where it is none.
std::optional<double> number_of(const Field& field) {
  if (field.value.is_number()) return field.value.get<double>();
  if (field.layer.from != LimitSource::flag || !field.value.is_string()) return std::nullopt;
  const std::string& text = field.value.get_ref<const std::string&>();
  double number = 0;
  const auto [rest, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (error != std::errc() || rest != text.data() + text.size() || !std::isfinite(number))
    return std::nullopt;
  return number;
}

std::string_view unit_word(Unit unit) {
  return unit == Unit::inch ? "inches" : unit == Unit::point ? "points" : unit_name(unit);
}

std::optional<Length> length_of(const Field& field) {
  if (field.value.is_number()) return make_length(field.value.get<double>(), field.layer.bare);
  if (!field.value.is_string()) return std::nullopt;
  try {
    return parse_length(field.value.get_ref<const std::string&>(), field.layer.bare);
  } catch (const Error&) {
    return std::nullopt;  // the caller names file and key
  }
}

}  // namespace

std::optional<Field> find_field(const Layer& layer, const std::string& dotted_key) {
  const json* value = &layer.values;
  for (std::size_t start = 0; start <= dotted_key.size();) {
    const std::size_t stop = std::min(dotted_key.find('.', start), dotted_key.size());
    const auto found =
        value->is_object() ? value->find(dotted_key.substr(start, stop - start)) : value->end();
    if (found == value->end()) return std::nullopt;
    value = &*found;
    start = stop + 1;
  }
  return Field{layer, dotted_key, *value};
}

std::string place(const Layer& layer, const std::string& key) {
  return layer.from == LimitSource::flag ? flag_name(key) : layer.file + ": \"" + key + "\"";
}

void reject(const Field& field, const std::string& expected) {
  throw Error(place(field.layer, field.key) + " is " + shown(field.value) + "; expected " + expected);
}

Length read_length(const Field& field, Length least, Length most) {
  const auto length = length_of(field);
  const Unit unit = field.layer.bare;
  if (!length)
    reject(field, "a length, as a bare number (then in " + std::string(unit_word(unit)) +
                      ") or with its unit, like \"11in\", \"279.4mm\", \"27.94cm\" or \"9pt\"");
  if (!(*length >= least && *length <= most))
    reject(field, "a length from " + to_exact_text(least, unit) + " to " + to_exact_text(most, unit));
  return *length;
}

double read_number(const Field& field, double least, double most) {
  const auto number = number_of(field);
  if (!number || !(*number >= least && *number <= most))
    reject(field, "a number from " + number_text(least) + " to " + number_text(most));
  return *number;
}

int read_whole_number(const Field& field, int least, int most) {
  const auto number = number_of(field);
  if (!number || !(*number >= least && *number <= most) || *number != std::floor(*number))
    reject(field, "a whole number from " + std::to_string(least) + " to " + std::to_string(most));
  return static_cast<int>(*number);
}

std::string read_text(const Field& field) {
  if (!field.value.is_string() || field.value.get_ref<const std::string&>().empty()) reject(field, "a text");
  return field.value.get<std::string>();
}

std::string read_choice(const Field& field, const std::vector<std::string>& choices) {
  const bool known =
      field.value.is_string() && std::ranges::count(choices, field.value.get<std::string>()) > 0;
  if (known) return field.value.get<std::string>();
  std::string list;
  for (const std::string& choice : choices) list += (list.empty() ? "" : ", ") + choice;
  reject(field, "one of " + list);
}

std::vector<Length> read_lengths(const Field& field, std::size_t least_count, Length least, Length most) {
  if (!field.value.is_array() || field.value.size() < least_count)
    reject(field, "a list of " + std::to_string(least_count) + " or more lengths in square brackets");
  std::vector<Length> lengths;
  for (const json& value : field.value)
    lengths.push_back(read_length(
        {field.layer, field.key + "[" + std::to_string(lengths.size()) + "]", value}, least, most));
  return lengths;
}

void require_known_keys(const Layer& layer, const json& object, const std::string& prefix,
                        const std::vector<std::string>& known) {
  for (const auto& [key, value] : object.items())
    if (std::ranges::count(known, key) == 0)
      throw Error(place(layer, prefix + key) + " is not a known " +
                  (layer.from == LimitSource::flag ? "setting; " : "key; ") + nearest_hint(key, known));
}

}  // namespace frisket
