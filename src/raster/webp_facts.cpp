// WebP: RFC 9649, 2.3 (RIFF chunks), 2.4 (file header), 2.7 (extended files).
#include "raster/file_facts.hpp"

namespace frisket {
namespace {

void read_exif(FilePart chunk, FileFacts& facts) {
  // Some writers keep the name that the block has in a JPEG.
  constexpr std::string_view name("Exif\0\0", 6);
  if (holds(chunk.read(0, name.size()), 0, name)) chunk = FilePart(chunk, name.size(), chunk.size());
  if (const auto stated = exif_resolution(chunk)) facts.resolutions.push_back(*stated);
}

}  // namespace

FileFacts webp_facts(const FilePart& file, const RasterBounds&) {
  constexpr std::uint64_t chunk_head = 8;
  FileFacts facts;
  const Bytes riff = file.read(0, 12);
  if (riff.size() < 12) throw_truncated(FileKind::webp, "the header is cut off");
  const std::uint64_t end = number_in(riff, 4, 4, ByteOrder::little) + chunk_head;
  if (end > file.size())
    throw_truncated(FileKind::webp, std::to_string(end - file.size()) + " bytes are missing");
  bool has_picture = false;
  for (std::uint64_t at = 12; at + chunk_head <= end;) {
    const Bytes head = file.read(at, chunk_head);
    const std::uint64_t length = number_in(head, 4, 4, ByteOrder::little);
    if (length > end - at - chunk_head) throw_truncated(FileKind::webp, "a chunk is cut off");
    if (holds(head, 0, "VP8 ")) facts.lossy = true;
    if (holds(head, 0, "ANIM"))
      facts.unseen.emplace_back("the WebP is animated, and only its first frame was inspected");
    has_picture = has_picture || holds(head, 0, "VP8 ") || holds(head, 0, "VP8L") || holds(head, 0, "ANMF");
    if (holds(head, 0, "EXIF")) read_exif(FilePart(file, at + chunk_head, length), facts);
    at += chunk_head + length + length % 2;  // chunks are padded to an even length
  }
  if (!has_picture) throw_truncated(FileKind::webp, "it holds no picture");
  return facts;
}

}  // namespace frisket
