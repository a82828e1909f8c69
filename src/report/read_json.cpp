#include "report/read_json.hpp"

#include "frisket/version.hpp"

namespace frisket {

Json read_document(const std::string& text, const std::string& kind) {
  return reading(kind, [&] {
    Json json = Json::parse(text);
    if (json.at(kind) != 1 || json.at("tool").at("version") != version)
      throw Error("this was written by another version of frisket; inspect the pages again");
    return json;
  });
}

std::string text_or_empty(const Json& value) { return value.is_null() ? "" : value.get<std::string>(); }

}  // namespace frisket
