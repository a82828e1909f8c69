// PNG: ISO/IEC 15948, 5.3 (chunks), 11.2.2 (IHDR), 11.2.5 (IEND), 11.3.5.3 (pHYs).
#include "frisket/units.hpp"
#include "raster/file_facts.hpp"

namespace frisket {
namespace {

constexpr double inches_per_metre = 1000.0 / mm_per_inch;

void read_header(const Bytes& header, const RasterBounds& bounds, FileFacts& facts) {
  facts.size = PixelSize{static_cast<std::int64_t>(number_in(header, 0, 4, ByteOrder::big)),
                         static_cast<std::int64_t>(number_in(header, 4, 4, ByteOrder::big))};
  require_within(*facts.size, bounds);
}

void read_physical_size(const Bytes& chunk, FileFacts& facts) {
  constexpr std::uint8_t unit_is_metre = 1;
  if (chunk.size() < 9 || chunk[8] != unit_is_metre) return;
  facts.resolutions.push_back(
      {"the pHYs chunk", static_cast<double>(number_in(chunk, 0, 4, ByteOrder::big)) / inches_per_metre,
       static_cast<double>(number_in(chunk, 4, 4, ByteOrder::big)) / inches_per_metre});
}

}  // namespace

FileFacts png_facts(const FilePart& file, const RasterBounds& bounds) {
  constexpr std::uint64_t signature = 8;
  constexpr std::uint64_t frame = 12;  // length, type and checksum of a chunk
  FileFacts facts;
  for (std::uint64_t at = signature;;) {
    const Bytes head = file.read(at, 8);
    if (head.size() < 8) throw_truncated(FileKind::png, "it has no end chunk");
    const std::uint64_t length = number_in(head, 0, 4, ByteOrder::big);
    if (at == signature && (!holds(head, 4, "IHDR") || length != 13))
      throw_damaged(FileKind::png, "no header chunk");
    if (!file.holds(at, length + frame)) throw_truncated(FileKind::png, "a chunk is cut off");
    if (holds(head, 4, "IHDR")) read_header(file.read(at + 8, length), bounds, facts);
    if (holds(head, 4, "pHYs")) read_physical_size(file.read(at + 8, length), facts);
    if (holds(head, 4, "IEND")) return facts;
    at += length + frame;
  }
}

}  // namespace frisket
