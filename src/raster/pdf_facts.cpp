// PDF: ISO 32000-1, 7.5.5 (the end-of-file marker) and annex F.2 (the length in a linearised file).
#include <charconv>
#include <string>

#include "raster/file_facts.hpp"

namespace frisket {
namespace {

/// The length that a linearised ('fast web view') PDF states near its beginning.
std::optional<std::uint64_t> stated_length(const FilePart& file) {
  const Bytes start = file.read(0, 1024);
  const std::string_view text(reinterpret_cast<const char*>(start.data()), start.size());
  const std::size_t linearised = text.find("/Linearized");
  if (linearised == std::string_view::npos) return std::nullopt;
  std::size_t at = text.find("/L ", linearised);
  if (at == std::string_view::npos) return std::nullopt;
  at += 3;
  std::uint64_t length = 0;
  const auto [end, code] = std::from_chars(text.data() + at, text.data() + text.size(), length);
  return code == std::errc() ? std::optional(length) : std::nullopt;
}

}  // namespace

FileFacts pdf_facts(const FilePart& file, const RasterBounds&) {
  // A reader rebuilds the table of a cut PDF from what is left and shows the pages with holes in them.
  constexpr std::uint64_t tail = 1024;  // readers have always allowed this much after the marker
  const Bytes last = file.read(file.size() - std::min(file.size(), tail), tail);
  const std::string_view text(reinterpret_cast<const char*>(last.data()), last.size());
  if (text.find("%%EOF") == std::string_view::npos)
    throw_truncated(FileKind::pdf, "it has no end-of-file marker");
  if (stated_length(file).value_or(0) > file.size())
    throw_truncated(FileKind::pdf, "it is shorter than it says");
  return {};
}

}  // namespace frisket
