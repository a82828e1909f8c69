#include "cli/terminal.hpp"

#include <unistd.h>

#include <iostream>

#include "report/printable.hpp"

namespace frisket {
namespace {

bool on_terminal() {
  static const bool terminal = isatty(STDERR_FILENO) == 1;
  return terminal;
}

}  // namespace

void say_error(std::string_view what) { std::cerr << "frisket: " + printable(what) + "\n"; }

void say_error(std::string_view file, std::string_view reason) {
  say_error(std::string(file) + ": " + std::string(reason));
}

Progress::Progress(std::size_t page, std::size_t pages, std::string_view name) {
  if (on_terminal())
    std::cerr << "\r\x1b[K" << page << " of " << pages << ": " << printable(name) << "…" << std::flush;
}

Progress::~Progress() {
  if (on_terminal()) std::cerr << "\r\x1b[K" << std::flush;
}

}  // namespace frisket
