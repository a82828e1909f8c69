#pragma once

#include <string>
#include <string_view>

#include "frisket/inspect.hpp"

namespace frisket {

/// How many pages of a run came to what.
struct HtmlCounts {
  int fix = 0, review = 0, not_assessed = 0, good = 0, failed = 0;
  int pages() const { return fix + review + not_assessed + good + failed; }
  void add(std::string_view verdict);
};

/// From the doctype to the open <main>: title, style, and what may run (the report's own script, nothing from
/// anywhere else: Content Security Policy level 3, W3C).
std::string html_opening(const std::string& title, const HtmlCounts& counts);
/// The rest, with the script.
std::string html_closing();

}  // namespace frisket
