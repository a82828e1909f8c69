// JPEG: ISO/IEC 10918-1, B.1.1 (markers), B.2.2 (frame header); JFIF 1.02 for the density; Exif 2.3, 4.5.4.
#include "frisket/units.hpp"
#include "raster/file_facts.hpp"

namespace frisket {
namespace {

constexpr std::uint8_t end_of_image = 0xd9;

/// Markers without a segment behind them: TEM, RST0 to RST7, SOI.
bool stands_alone(std::uint8_t marker) { return marker == 0x01 || (marker >= 0xd0 && marker <= 0xd8); }

bool is_frame_header(std::uint8_t marker) {
  return marker >= 0xc0 && marker <= 0xcf && marker != 0xc4 && marker != 0xc8 && marker != 0xcc;
}

/// The next marker at or after the cursor; skips entropy-coded data, in which FF is always followed by 00.
std::uint8_t next_marker(ByteCursor& cursor) {
  bool after_ff = false;
  while (const std::optional<std::uint8_t> byte = cursor.next()) {
    if (after_ff && *byte != 0x00 && *byte != 0xff) return *byte;
    after_ff = *byte == 0xff;
  }
  throw_truncated(FileKind::jpeg, "it has no end-of-image marker");
}

void read_jfif(const Bytes& segment, FileFacts& facts) {
  if (!holds(segment, 0, std::string_view("JFIF\0", 5)) || segment.size() < 12) return;
  const std::uint8_t unit = segment[7];
  if (unit != 1 && unit != 2) return;  // 0: only the shape of the pixels
  const double per_inch = unit == 1 ? 1.0 : mm_per_inch / 10.0;
  facts.resolutions.push_back({"the JFIF header",
                               static_cast<double>(number_in(segment, 8, 2, ByteOrder::big)) * per_inch,
                               static_cast<double>(number_in(segment, 10, 2, ByteOrder::big)) * per_inch});
}

void read_exif(const FilePart& segment, FileFacts& facts) {
  constexpr std::string_view name("Exif\0\0", 6);
  if (!holds(segment.read(0, name.size()), 0, name)) return;
  if (const auto stated = exif_resolution(FilePart(segment, name.size(), segment.size())))
    facts.resolutions.push_back(*stated);
}

void read_segment(std::uint8_t marker, const FilePart& segment, FileFacts& facts) {
  constexpr std::uint8_t app0 = 0xe0;
  constexpr std::uint8_t app1 = 0xe1;
  if (marker == app0) read_jfif(segment.read(0, 14), facts);
  if (marker == app1) read_exif(segment, facts);
  if (!is_frame_header(marker) || segment.size() < 5) return;
  const Bytes frame = segment.read(0, 5);
  facts.size = PixelSize{static_cast<std::int64_t>(number_in(frame, 3, 2, ByteOrder::big)),
                         static_cast<std::int64_t>(number_in(frame, 1, 2, ByteOrder::big))};
}

}  // namespace

FileFacts jpeg_facts(const FilePart& file, const RasterBounds& bounds) {
  FileFacts facts;
  facts.lossy = true;
  ByteCursor cursor(file);
  for (;;) {
    const std::uint8_t marker = next_marker(cursor);
    if (marker == end_of_image) return facts;
    if (stands_alone(marker)) continue;
    const std::uint64_t at = cursor.position();
    const Bytes length_bytes = file.read(at, 2);
    if (length_bytes.size() < 2) throw_truncated(FileKind::jpeg, "a segment is cut off");
    const std::uint64_t length = number_in(length_bytes, 0, 2, ByteOrder::big);
    if (length < 2) throw_damaged(FileKind::jpeg, "a segment without a length");
    if (!file.holds(at, length)) throw_truncated(FileKind::jpeg, "a segment is cut off");
    read_segment(marker, FilePart(file, at + 2, length - 2), facts);
    if (facts.size) require_within(*facts.size, bounds);
    cursor.move_to(at + length);
  }
}

}  // namespace frisket
