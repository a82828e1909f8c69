#pragma once

#include <string>

#include "frisket/report.hpp"

namespace frisket {

/// The results of one page for a terminal: a heading, one line per finding with its number and severity, why
/// checks could not be made, notes about the file, and the verdict. Ends with a newline.
std::string page_text(const Report& report);

/// What a run came to, in a line or two: how many pages of each verdict, what was left alone.
std::string run_text(const Summary& summary);

}  // namespace frisket
