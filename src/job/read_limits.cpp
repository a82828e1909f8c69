#include "job/read_limits.hpp"

#include <algorithm>

#include "job/resolution.hpp"

namespace frisket {
namespace {

using Value = std::variant<Length, Edges, double>;

/// "resolution" of "resolution.least"; the key itself where it has no full stop.
std::string group_of(std::string_view key) { return std::string(key.substr(0, key.find('.'))); }

Edges read_edges(const Field& field, Length least, Length most) {
  if (!field.value.is_object()) return Edges::all(read_length(field, least, most));
  require_known_keys(field.layer, field.value, field.key + ".", {"top", "right", "bottom", "left"});
  Edges edges;
  for (const Edge edge : all_edges) {
    const std::string name(edge_name(edge));
    if (!field.value.contains(name))
      reject(field, "all four of \"top\", \"right\", \"bottom\" and \"left\"; \"" + name + "\" is missing");
    edges.at(edge) = read_length(field.child(name), least, most);
  }
  return edges;
}

Value read_value(const Field& field, const LimitSpec& spec) {
  const Length least = Length::from_mm(spec.least), most = Length::from_mm(spec.most);
  switch (spec.kind) {
    case LimitKind::length:
      return read_length(field, least, most);
    case LimitKind::edges:
      return read_edges(field, least, most);
    case LimitKind::ppi:
      break;
  }
  return read_number(field, spec.least, spec.most);
}

const LimitSpec* find_spec(std::span<const LimitSpec> specs, std::string_view key) {
  const auto found = std::ranges::find(specs, key, &LimitSpec::key);
  return found == specs.end() ? nullptr : &*found;
}

/// The limits that say what resolution pictures and line art need, where a check has declared them.
struct ResolutionSpecs {
  const LimitSpec *wanted, *least, *line_art;

  explicit ResolutionSpecs(std::span<const LimitSpec> specs)
      : wanted(find_spec(specs, "resolution.wanted")),
        least(find_spec(specs, "resolution.least")),
        line_art(find_spec(specs, "resolution.line_art")) {}
  explicit operator bool() const { return wanted != nullptr && least != nullptr; }
};

void require_known_members(const Layer& layer, std::span<const LimitSpec> specs) {
  for (const LimitSpec& spec : specs) {
    const std::string group = group_of(spec.key);
    const auto field = group == spec.key ? std::nullopt : find_field(layer, group);
    if (!field) continue;
    std::vector<std::string> known;
    for (const LimitSpec& member : specs)
      if (group_of(member.key) == group && member.key != group)
        known.emplace_back(member.key.substr(group.size() + 1));
    if (group == "resolution") known.insert(known.end(), {"screen", "quality", "viewing_distance"});
    if (!field->value.is_object()) reject(*field, "an object like {\"" + known.front() + "\": …}");
    require_known_keys(layer, field->value, group + ".", known);
  }
}

double within(const Field& field, double ppi, const LimitSpec& spec) {
  if (ppi < spec.least || ppi > spec.most)
    reject(field, "what comes to " + std::to_string(static_cast<int>(spec.least)) + " to " +
                      std::to_string(static_cast<int>(spec.most)) + " ppi; this comes to " +
                      std::to_string(static_cast<int>(ppi)));
  return ppi;
}

/// Of what pictures need, for line art looked at from afar: as 600 is to 300 ppi (common practice, no
/// source).
constexpr double line_art_times = 2.0;

void set_derived_resolution(const Layer& layer, const ResolutionSpecs& specs, Limits& limits) {
  const auto field = find_field(layer, "resolution");
  if (!specs || !field) return;
  if (const auto derived = read_derived_resolution(*field)) {
    limits.set(*specs.wanted, within(*field, derived->wanted, *specs.wanted), layer.from);
    limits.set(*specs.least, within(*field, derived->least, *specs.least), layer.from);
    const bool from_afar = field->value.contains("viewing_distance");
    if (specs.line_art && from_afar && !field->value.contains("line_art"))
      limits.set(*specs.line_art, std::min(line_art_times * derived->wanted, specs.line_art->most),
                 layer.from);
  }
}

LimitSource source(const Limits& limits, const LimitSpec& spec) {
  return limits.all().find(spec.key)->second.from;
}

/// Where only one of the two was set, the other one's default gives way to it.
void settle_resolution(std::span<const Layer> layers, const ResolutionSpecs& specs, Limits& limits) {
  if (!specs || limits.ppi(*specs.least) <= limits.ppi(*specs.wanted)) return;
  const LimitSource least_from = source(limits, *specs.least), wanted_from = source(limits, *specs.wanted);
  if (least_from == LimitSource::standard)
    return limits.set(*specs.least, limits.ppi(*specs.wanted) * least_share, wanted_from);
  if (wanted_from == LimitSource::standard)
    return limits.set(*specs.wanted, limits.ppi(*specs.least), least_from);
  const auto layer = std::ranges::find(layers, std::max(least_from, wanted_from), &Layer::from);
  throw Error(place(*layer, "resolution.least") + " is above resolution.wanted (" +
              std::to_string(static_cast<int>(limits.ppi(*specs.least))) + " and " +
              std::to_string(static_cast<int>(limits.ppi(*specs.wanted))) +
              " ppi); expected at most what is wanted");
}

}  // namespace

std::vector<std::string> limit_keys(std::span<const LimitSpec> specs) {
  std::vector<std::string> keys;
  for (const LimitSpec& spec : specs)
    if (std::ranges::count(keys, group_of(spec.key)) == 0) keys.push_back(group_of(spec.key));
  return keys;
}

Limits read_limits(std::span<const Layer> layers, std::span<const LimitSpec> specs) {
  Limits limits = Limits::standard(specs);
  const ResolutionSpecs resolution(specs);
  for (const Layer& layer : layers) {
    require_known_members(layer, specs);
    for (const LimitSpec& spec : specs)
      if (const auto field = find_field(layer, std::string(spec.key)))
        limits.set(spec, read_value(*field, spec), layer.from);
    set_derived_resolution(layer, resolution, limits);
  }
  settle_resolution(layers, resolution, limits);
  return limits;
}

}  // namespace frisket
