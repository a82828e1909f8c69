#pragma once

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace frisket {

// A page's report is a whole document; the report of a run is made of its pieces. Each stands between
// comments, which no text from outside can contain: it is escaped.

/// `html` as the piece called `name`.
std::string html_piece(std::string_view name, const std::string& html);

/// The first piece called `name`. Throws Error where there is none.
std::string piece_of(const std::string& document, std::string_view name);
/// All of them, in their order.
std::vector<std::string> pieces_of(const std::string& document, std::string_view name);
/// `document` without its pieces called `name`.
std::string without_pieces(std::string document, std::string_view name);

/// The value of an attribute that frisket wrote itself: the first of that name. Throws Error where there is
/// none.
std::string attribute_of(const std::string& html, std::string_view name);

/// The report in a file. Throws Error where it cannot be read.
std::string read_report_file(const std::filesystem::path& file);

}  // namespace frisket
