#pragma once

#include <string>
#include <vector>

#include "frisket/inspect.hpp"

namespace frisket {

/// One page for the report: its card for the contact sheet, its sheet with the findings, its panels.
struct HtmlPage {
  std::string card, article;
};

/// Draws all of a page. `file_notes` are the raster's. Stays below 1 MB. Throws Error where a picture cannot
/// be made.
HtmlPage html_page(const Raster& raster, const Report& report, const std::vector<std::string>& file_notes);

}  // namespace frisket
