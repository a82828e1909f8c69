#include "cli/terminal.hpp"

#include <iostream>
#include <string>

#include "report/printable.hpp"

namespace frisket {

void say_error(std::string_view what) { std::cerr << "frisket: " + printable(what) + "\n"; }

void say_error(std::string_view file, std::string_view reason) {
  say_error(std::string(file) + ": " + std::string(reason));
}

}  // namespace frisket
