#pragma once

#include <string>
#include <string_view>

namespace frisket {

/// Text from outside made safe for the content and the double-quoted attributes of HTML; see xml_escaped().
std::string html_escaped(std::string_view text);

/// "<TAG ATTRIBUTES>escaped text</TAG>". `attributes` are written as they are.
std::string html_element(std::string_view tag, std::string_view text, std::string_view attributes = "");

/// " NAME=\"escaped value\"".
std::string html_attribute(std::string_view name, std::string_view value);

}  // namespace frisket
