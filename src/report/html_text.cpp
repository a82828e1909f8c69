#include "report/html_text.hpp"

#include "report/svg.hpp"

namespace frisket {

std::string html_escaped(std::string_view text) { return xml_escaped(text); }

std::string html_element(std::string_view tag, std::string_view text, std::string_view attributes) {
  std::string element = "<" + std::string(tag);
  if (!attributes.empty()) element += " " + std::string(attributes);
  return element + ">" + html_escaped(text) + "</" + std::string(tag) + ">\n";
}

std::string html_attribute(std::string_view name, std::string_view value) {
  return " " + std::string(name) + "=\"" + html_escaped(value) + "\"";
}

}  // namespace frisket
