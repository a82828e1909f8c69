#pragma once

#include <functional>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "frisket/error.hpp"
#include "frisket/limits.hpp"

namespace frisket {

/// All settings of one origin: the printer's file, the ticket or the command line.
struct Layer {
  std::string file;  ///< as messages name it; not used for flags
  LimitSource from = LimitSource::ticket;
  Unit bare = Unit::millimetre;  ///< unit of bare numbers
  nlohmann::json values;         ///< an object; flags are texts under the same keys
};

/// One value and where it is written, so that every message can name file, key and value.
struct Field {
  const Layer& layer;
  std::string key;  ///< dotted: "bleed.top"
  const nlohmann::json& value;

  Field child(const std::string& name) const { return {layer, key + "." + name, value.at(name)}; }
};

/// The value at a dotted key of a layer; empty where there is none.
std::optional<Field> find_field(const Layer& layer, const std::string& dotted_key);

/// "leaflet.json: "bleed"" or "--bleed".
std::string place(const Layer& layer, const std::string& key);
/// Throws Error: `leaflet.json: "bleed" is -3; ` and what was expected.
[[noreturn]] void reject(const Field& field, const std::string& expected);
/// Runs `work`; an Error that names no place is thrown on with the place of `field`.
template <class Work>
auto at_place(const Field& field, Work work) {
  try {
    return work();
  } catch (const Error& error) {
    throw Error(place(field.layer, field.key) + ": " + error.what());
  }
}

/// A length from `least` to `most`: a number in the layer's unit or a text with its unit.
Length read_length(const Field& field, Length least, Length most);
/// A number from `least` to `most`; on the command line a text.
double read_number(const Field& field, double least, double most);
/// A whole number from `least` to `most`.
int read_whole_number(const Field& field, int least, int most);
/// A text that is not empty.
std::string read_text(const Field& field);
/// One of `choices`.
std::string read_choice(const Field& field, const std::vector<std::string>& choices);
/// A list of `least_count` or more lengths, each from `least` to `most`.
std::vector<Length> read_lengths(const Field& field, std::size_t least_count, Length least, Length most);

/// Throws Error that names the first key of `object` which is not known, and the nearest known one. `prefix`
/// is the dotted key of the object with its full stop, or nothing.
void require_known_keys(const Layer& layer, const nlohmann::json& object, const std::string& prefix,
                        const std::vector<std::string>& known);

}  // namespace frisket
