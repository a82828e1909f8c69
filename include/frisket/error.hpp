#pragma once

#include <stdexcept>
#include <string>

namespace frisket {

/// The one exception of the library: bad input (a ticket, a file, an argument), always with a message a
/// user can act on. A fault of the page is a Finding, never an Error; a bug is an assert.
class Error : public std::runtime_error {
 public:
  explicit Error(const std::string& message) : std::runtime_error(message) {}
};

}  // namespace frisket
