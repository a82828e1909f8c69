#include "raster/decoding_faults.hpp"

#include "frisket/error.hpp"
#include "raster/file_facts.hpp"
#include "raster/loader_messages.hpp"

namespace frisket {
namespace {

/// What decoders say in passing when they go on over a hole and fill it with grey or black. ("Error in tile"
/// is libvips' own: its row cache paints over what could not be read, whatever `fail_on` says. "Extraneous
/// bytes" in a JPEG are padding that some cameras leave: no hole.)
bool tells_of_a_hole(const std::string& line) {
  for (const char* sign :
       {"remature end", "remature EO", "Corrupt JPEG data: bad", "Corrupt JPEG data: found", "error in tile",
        "CRC error", "Decoding error", "Not enough data", "ead error", "unable to read", "not terminated"})
    if (line.find(sign) != std::string::npos) return true;
  return false;
}

/// Without the decoder's own words: which of its threads meets the hole first, and what it says, varies.
[[noreturn]] void throw_incomplete(FileKind kind) {
  throw_damaged(kind, "its data cannot be decoded to the end");
}

/// Warnings about data that are not for display are nothing a designer can act on.
bool worth_knowing(const std::string& warning) {
  for (const char* idle : {"Unknown field", "resolution", "profile", "exif", "Exif", "xmp", "XMP"})
    if (warning.find(idle) != std::string::npos) return false;
  return true;
}

}  // namespace

/// Neither the text of the library alone nor a bare 'cannot read': what was tried, what it said, what to do.
void throw_undecodable(FileKind kind) {
  constexpr std::size_t longest_shown = 200;
  const std::string said = error_text();
  if (said.find("ncrypted") != std::string::npos || said.find("password") != std::string::npos)
    throw Error("the " + kind_name(kind) + " is locked with a password; export it without one");
  if (tells_of_a_hole(said)) throw_incomplete(kind);
  throw Error("the " + kind_name(kind) + " cannot be decoded: it is damaged or of a rare variety" +
              (said.empty() ? "" : " (" + said.substr(0, longest_shown) + ")") + "; export it again");
}

void require_no_holes(FileKind kind) {
  std::vector<std::string> said = kept_warnings();
  said.push_back(error_text());
  for (const std::string& line : said)
    if (tells_of_a_hole(line)) throw_incomplete(kind);
}

std::vector<std::string> warnings_worth_knowing(FileKind kind) {
  constexpr std::size_t most = 3;
  std::vector<std::string> sentences;
  for (const std::string& warning : kept_warnings())
    if (worth_knowing(warning) && sentences.size() < most)
      sentences.push_back("while it was decoded the " + kind_name(kind) + " gave a warning: " + warning);
  return sentences;
}

}  // namespace frisket
