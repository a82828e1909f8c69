#pragma once

#include <map>
#include <span>
#include <string>
#include <string_view>
#include <variant>

#include "frisket/geometry.hpp"

namespace frisket {

/// What a limit is: one length, a length for each edge, or a resolution in pixels per inch.
enum class LimitKind { length, edges, ppi };

/// The declaration of a limit, made in the file of the check that uses it. Ticket, `--help` and the
/// documentation read it here and nowhere else.
struct LimitSpec {
  std::string_view key;  ///< as in the ticket, a dot for nesting: "fold_safe", "resolution.least"
  LimitKind kind;
  double standard;        ///< default: millimetres, or ppi
  double least, most;     ///< range, both ends allowed, in the same unit
  std::string_view help;  ///< one line
};

/// Where the value of a limit came from, as the report says it.
enum class LimitSource { standard, printer, ticket, flag };
/// "default", "printer", "ticket" or "flag".
std::string_view limit_source_name(LimitSource source);

struct Limit {
  std::variant<Length, Edges, double> value;  ///< in the order of LimitKind
  LimitSource from = LimitSource::standard;
};

/// The limits of one job by key, each with where it came from.
class Limits {
 public:
  /// All of `specs` at their defaults.
  static Limits standard(std::span<const LimitSpec> specs);

  void set(const LimitSpec& spec, std::variant<Length, Edges, double> value, LimitSource from);
  /// The value of a limit; its default where nobody set it. Asking for another kind than declared is a bug.
  Length length(const LimitSpec& spec) const;
  Edges edges(const LimitSpec& spec) const;
  double ppi(const LimitSpec& spec) const;
  const std::map<std::string, Limit, std::less<>>& all() const { return values_; }

 private:
  std::map<std::string, Limit, std::less<>> values_;
};

}  // namespace frisket
