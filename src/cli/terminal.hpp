#pragma once

#include <string_view>

namespace frisket {

/// One line on stderr: "frisket: WHAT"; control characters of names within are written out.
void say_error(std::string_view what);
/// "frisket: FILE: REASON".
void say_error(std::string_view file, std::string_view reason);

}  // namespace frisket
