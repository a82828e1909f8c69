#include "frisket/limits.hpp"

#include <cassert>

namespace frisket {

std::string_view limit_source_name(LimitSource source) {
  switch (source) {
    case LimitSource::standard:
      return "default";
    case LimitSource::printer:
      return "printer";
    case LimitSource::ticket:
      return "ticket";
    case LimitSource::flag:
      return "flag";
  }
  return "";
}

namespace {

std::variant<Length, Edges, double> standard_value(const LimitSpec& spec) {
  switch (spec.kind) {
    case LimitKind::length:
      return Length::from_mm(spec.standard);
    case LimitKind::edges:
      return Edges::all(Length::from_mm(spec.standard));
    case LimitKind::ppi:
      return spec.standard;
  }
  return 0.0;
}

template <class Value>
Value value_of(const std::map<std::string, Limit, std::less<>>& values, const LimitSpec& spec) {
  const auto found = values.find(spec.key);
  const auto value = found == values.end() ? standard_value(spec) : found->second.value;
  assert(std::holds_alternative<Value>(value));
  return std::get<Value>(value);
}

}  // namespace

Limits Limits::standard(std::span<const LimitSpec> specs) {
  Limits limits;
  for (const LimitSpec& spec : specs) limits.set(spec, standard_value(spec), LimitSource::standard);
  return limits;
}

void Limits::set(const LimitSpec& spec, std::variant<Length, Edges, double> value, LimitSource from) {
  values_.insert_or_assign(std::string(spec.key), Limit{value, from});
}

Length Limits::length(const LimitSpec& spec) const { return value_of<Length>(values_, spec); }
Edges Limits::edges(const LimitSpec& spec) const { return value_of<Edges>(values_, spec); }
double Limits::ppi(const LimitSpec& spec) const { return value_of<double>(values_, spec); }

}  // namespace frisket
