#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace frisket {

/// One line on stderr: "frisket: WHAT"; control characters of names within are written out.
void say_error(std::string_view what);
/// "frisket: FILE: REASON".
void say_error(std::string_view file, std::string_view reason);

/// A line on stderr that says which page is at work; nothing unless stderr is a terminal. Cleared at its end.
class Progress {
 public:
  Progress(std::size_t page, std::size_t pages, std::string_view name);
  ~Progress();
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;
};

}  // namespace frisket
