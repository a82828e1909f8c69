#include "report/html_pieces.hpp"

#include <fstream>
#include <iterator>

#include "frisket/error.hpp"

namespace frisket {
namespace {

std::string opening(std::string_view name) { return "<!--" + std::string(name) + "-->\n"; }
std::string closing(std::string_view name) { return "<!--/" + std::string(name) + "-->\n"; }

std::string between(const std::string& text, const std::string& from, const std::string& to) {
  const std::size_t start = text.find(from);
  const std::size_t end = start == std::string::npos ? start : text.find(to, start + from.size());
  if (end == std::string::npos) throw Error("is not a report of a page");
  return text.substr(start + from.size(), end - start - from.size());
}

}  // namespace

std::string html_piece(std::string_view name, const std::string& html) {
  return opening(name) + html + closing(name);
}

std::string piece_of(const std::string& document, std::string_view name) {
  return between(document, opening(name), closing(name));
}

std::vector<std::string> pieces_of(const std::string& document, std::string_view name) {
  std::vector<std::string> pieces;
  for (std::size_t at = document.find(opening(name)); at != std::string::npos;
       at = document.find(opening(name), at)) {
    const std::size_t from = at + opening(name).size();
    at = document.find(closing(name), from);
    if (at == std::string::npos) break;
    pieces.push_back(document.substr(from, at - from));
  }
  return pieces;
}

std::string without_pieces(std::string document, std::string_view name) {
  for (std::size_t at = document.find(opening(name)); at != std::string::npos;
       at = document.find(opening(name), at)) {
    const std::size_t end = document.find(closing(name), at);
    if (end == std::string::npos) break;
    document.erase(at, end + closing(name).size() - at);
  }
  return document;
}

std::string attribute_of(const std::string& html, std::string_view name) {
  return between(html, " " + std::string(name) + "=\"", "\"");
}

std::string read_report_file(const std::filesystem::path& file) {
  std::ifstream stream(file, std::ios::binary);
  if (!stream) throw Error("cannot read " + file.string() + "; inspect the pages with --report first");
  return {std::istreambuf_iterator<char>(stream), {}};
}

}  // namespace frisket
