#pragma once

#include <string>
#include <vector>

#include "frisket/inspect.hpp"

namespace frisket {

/// The results of one page for a terminal: a heading, one line per finding with its number and severity, why
/// checks could not be made, notes about the file, and the verdict. Ends with a newline.
std::string page_text(const Report& report, const std::vector<std::string>& file_notes);

}  // namespace frisket
