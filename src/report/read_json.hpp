#pragma once

#include <array>
#include <string>

#include "frisket/error.hpp"
#include "report/json_values.hpp"

namespace frisket {

// Reading back what frisket wrote.

/// The document, if it is one of `kind` ("frisket_report") by this version of frisket. Throws Error.
Json read_document(const std::string& text, const std::string& kind);

/// Runs `read`; where the document does not hold what it should, throws Error instead of the parser's own.
template <class Read>
auto reading(const std::string& kind, Read read) {
  try {
    return read();
  } catch (const Json::exception&) {
    throw Error("this is no whole " + kind + "; inspect the page again");
  }
}

/// The text of a value; empty for null.
std::string text_or_empty(const Json& value);

/// The one of `all` that is called as `value` says.
template <class Value, std::size_t count>
Value named(const Json& value, const std::array<Value, count>& all, std::string_view (*name)(Value)) {
  for (const Value one : all)
    if (name(one) == value.get<std::string>()) return one;
  throw Error("'" + value.get<std::string>() + "' is not known to this version of frisket");
}

}  // namespace frisket
