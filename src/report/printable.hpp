#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace frisket {

/// One character of UTF-8 text, or one byte that is not UTF-8.
struct Character {
  std::string_view bytes;         ///< 1 to 4 bytes, as they stand in the text
  std::optional<char32_t> point;  ///< empty where the byte is not part of valid UTF-8
};

/// The character at the front of `text`, which must not be empty. Overlong forms, surrogates and values above
/// U+10FFFF are not UTF-8 (RFC 3629, section 3).
Character first_character(std::string_view text);

/// Text from outside (a file name, a job's name) made fit for one line of a terminal, a log or a picture:
/// control characters, line separators, marks that turn the writing direction and bytes that are not UTF-8
/// are written out as \n, \t, \x1b, \u202e.
std::string printable(std::string_view text);

}  // namespace frisket
