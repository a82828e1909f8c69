// PBM, PGM and PPM: the format descriptions pbm(5), pgm(5) and ppm(5) of netpbm.
#include <cctype>

#include "frisket/error.hpp"
#include "raster/file_facts.hpp"

namespace frisket {
namespace {

struct Header {
  char magic = '0';  ///< '1' to '6'
  std::uint64_t width = 0, height = 0, most = 1;

  bool plain() const { return magic == '2' || magic == '3'; }
  bool bitmap() const { return magic == '4'; }
  std::uint64_t bands() const { return magic == '3' || magic == '6' ? 3 : 1; }
  std::uint64_t row_bytes() const {
    return bitmap() ? (width + 7) / 8 : width * bands() * (most > 255 ? 2 : 1);
  }
};

/// The next byte outside a comment (from # to the end of the line).
std::optional<std::uint8_t> next_uncommented(ByteCursor& cursor) {
  std::optional<std::uint8_t> byte = cursor.next();
  if (byte != '#') return byte;
  while (byte && byte != '\n' && byte != '\r') byte = cursor.next();
  return byte;
}

/// The next number of the header and the one blank that ends it.
std::uint64_t header_number(ByteCursor& cursor) {
  constexpr std::uint64_t absurd = 1'000'000'000;
  std::optional<std::uint8_t> byte = next_uncommented(cursor);
  while (byte && std::isspace(*byte) != 0) byte = next_uncommented(cursor);
  if (byte && std::isdigit(*byte) == 0) throw_damaged(FileKind::ppm, "the header is not a list of numbers");
  std::uint64_t value = 0;
  for (; byte && std::isdigit(*byte) != 0 && value < absurd; byte = next_uncommented(cursor))
    value = value * 10 + (*byte - std::uint64_t{'0'});
  if (!byte) throw_truncated(FileKind::ppm, "the header is cut off");
  if (value == 0 || value >= absurd) throw_damaged(FileKind::ppm, "the header gives an impossible size");
  return value;
}

Header read_header(ByteCursor& cursor) {
  Header header;
  cursor.next();
  header.magic = static_cast<char>(cursor.next().value_or('0'));
  // libvips 8.14 reads the digits of a plain PBM, which need no blanks between them, as one large number.
  if (header.magic == '1')
    throw Error("a plain PBM (bits written out as digits) is not opened; save it as a binary one (P4)");
  header.width = header_number(cursor);
  header.height = header_number(cursor);
  if (!header.bitmap()) header.most = header_number(cursor);
  return header;
}

/// Counts the numbers of a plain (written out in digits) file up to `wanted`. One at the very end may have
/// lost digits: pgm(5) wants a blank after each.
std::uint64_t count_plain_samples(ByteCursor& cursor, std::uint64_t wanted) {
  std::uint64_t samples = 0;
  bool in_number = false;
  while (samples < wanted) {
    const std::optional<std::uint8_t> byte = next_uncommented(cursor);
    if (!byte) break;
    const bool digit = std::isdigit(*byte) != 0;
    if (in_number && !digit) ++samples;
    in_number = digit;
  }
  return samples;
}

}  // namespace

FileFacts ppm_facts(const FilePart& file, const RasterBounds& bounds) {
  ByteCursor cursor(file);
  const Header header = read_header(cursor);
  FileFacts facts;
  facts.size = PixelSize{static_cast<std::int64_t>(header.width), static_cast<std::int64_t>(header.height)};
  require_within(*facts.size, bounds);
  if (header.most > 65535) throw_damaged(FileKind::ppm, "its largest value is beyond 65535");
  if (!header.bitmap() && header.most != 255 && header.most != 65535)
    facts.white = static_cast<int>(header.most);
  if (header.plain()) {
    const std::uint64_t wanted = header.width * header.height * header.bands();
    const std::uint64_t found = count_plain_samples(cursor, wanted);
    if (found < wanted)
      throw_truncated(FileKind::ppm, std::to_string(wanted - found) + " of its numbers are missing");
  } else if (!file.holds(cursor.position(), header.row_bytes() * header.height)) {
    throw_truncated(FileKind::ppm, "rows are missing");
  }
  return facts;
}

}  // namespace frisket
