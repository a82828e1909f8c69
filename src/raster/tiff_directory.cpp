#include "raster/tiff_directory.hpp"

#include <algorithm>
#include <array>
#include <string>

#include "frisket/error.hpp"
#include "raster/file_facts.hpp"

namespace frisket {
namespace {

constexpr std::uint16_t type_rational = 5;

/// Bytes of one value by its type (TIFF 6.0, section 2; 13, 16, 17 and 18 as in the supplements and BigTIFF);
/// 0: not a type frisket knows.
std::uint64_t bytes_of(std::uint16_t type) {
  constexpr std::array<std::uint64_t, 19> sizes{0, 1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8, 4, 0, 0, 8, 8, 8};
  return type < sizes.size() ? sizes[type] : 0;
}

/// BYTE, SHORT, LONG, IFD, LONG8, IFD8.
bool is_unsigned_whole(std::uint16_t type) {
  return type == 1 || type == 3 || type == 4 || type == 13 || type == 16 || type == 18;
}

/// How wide the numbers of a classic TIFF and of a BigTIFF are.
struct Layout {
  ByteOrder order = ByteOrder::little;
  std::uint64_t first = 0;        ///< position of the first directory
  std::uint64_t count_bytes = 2;  ///< of the number of entries
  std::uint64_t offset_bytes = 4;
  std::uint64_t entry_bytes() const { return 4 + 2 * offset_bytes; }
};

std::optional<Layout> read_layout(const FilePart& file) {
  const Bytes head = file.read(0, 16);
  if (head.size() < 8 || !(holds(head, 0, "II") || holds(head, 0, "MM"))) return std::nullopt;
  Layout layout;
  layout.order = head[0] == 'I' ? ByteOrder::little : ByteOrder::big;
  const std::uint64_t version = number_in(head, 2, 2, layout.order);
  if (version == 42) {
    layout.first = number_in(head, 4, 4, layout.order);
    return layout;
  }
  if (version != 43 || head.size() < 16) return std::nullopt;
  layout.first = number_in(head, 8, 8, layout.order);
  layout.count_bytes = layout.offset_bytes = 8;
  return layout;
}

struct FoundDirectory {
  TiffDirectory directory;
  std::uint64_t next = 0;  ///< position of the next one; 0: this was the last
};

/// Empty where the directory is cut off, or claims more tags than any has.
std::optional<FoundDirectory> read_directory(const FilePart& file, const Layout& layout, std::uint64_t at) {
  const Bytes count_bytes = file.read(at, layout.count_bytes);
  if (count_bytes.size() < layout.count_bytes) return std::nullopt;
  const std::uint64_t count = number_in(count_bytes, 0, layout.count_bytes, layout.order);
  const std::uint64_t entries_at = at + layout.count_bytes;
  // As libtiff: a page has some twenty tags, a hostile one millions, each of which would be kept.
  constexpr std::uint64_t most_tags = 4096;
  if (count > most_tags || !file.holds(entries_at, count * layout.entry_bytes() + layout.offset_bytes))
    return std::nullopt;
  const Bytes entries = file.read(entries_at, count * layout.entry_bytes() + layout.offset_bytes);
  std::map<TiffTag, TiffDirectory::Field> fields;
  for (std::size_t i = 0; i < count; ++i) {
    const std::size_t entry = i * layout.entry_bytes();
    TiffDirectory::Field field;
    field.type = static_cast<std::uint16_t>(number_in(entries, entry + 2, 2, layout.order));
    field.count = number_in(entries, entry + 4, layout.offset_bytes, layout.order);
    const std::size_t value = entry + 4 + layout.offset_bytes;
    const bool inside =
        field.count <= layout.offset_bytes && field.count * bytes_of(field.type) <= layout.offset_bytes;
    field.value_at =
        inside ? entries_at + value : number_in(entries, value, layout.offset_bytes, layout.order);
    fields.emplace(static_cast<TiffTag>(number_in(entries, entry, 2, layout.order)), field);
  }
  return FoundDirectory{TiffDirectory(file, layout.order, std::move(fields)),
                        number_in(entries, count * layout.entry_bytes(), layout.offset_bytes, layout.order)};
}

}  // namespace

bool TiffDirectory::whole() const {
  return std::all_of(fields_.begin(), fields_.end(), [&](const auto& entry) {
    const Field& field = entry.second;
    return field.count <= file_.size() && file_.holds(field.value_at, field.count * bytes_of(field.type));
  });
}

std::vector<std::uint64_t> TiffDirectory::numbers(TiffTag tag, std::uint64_t most) const {
  const auto found = fields_.find(tag);
  if (found == fields_.end()) return {};
  const Field& field = found->second;
  const std::uint64_t size = bytes_of(field.type);
  if (!is_unsigned_whole(field.type)) return {};
  if (field.count > file_.size() || !file_.holds(field.value_at, field.count * size))
    throw_truncated(FileKind::tiff, "a tag lies beyond the end of the file");
  const std::uint64_t count = std::min(field.count, most);
  const Bytes bytes = file_.read(field.value_at, count * size);
  std::vector<std::uint64_t> values;
  values.reserve(count);
  for (std::size_t at = 0; at + size <= bytes.size(); at += size)
    values.push_back(number_in(bytes, at, size, order_));
  return values;
}

std::optional<std::uint64_t> TiffDirectory::number(TiffTag tag) const {
  const std::vector<std::uint64_t> values = numbers(tag, 1);
  return values.empty() ? std::nullopt : std::optional(values.front());
}

std::optional<double> TiffDirectory::fraction(TiffTag tag) const {
  const auto found = fields_.find(tag);
  if (found == fields_.end() || found->second.type != type_rational) return std::nullopt;
  const Bytes bytes = file_.read(found->second.value_at, 8);
  if (bytes.size() < 8) return std::nullopt;
  return static_cast<double>(number_in(bytes, 0, 4, order_)) /
         static_cast<double>(number_in(bytes, 4, 4, order_));
}

std::vector<TiffDirectory> read_tiff_directories(const FilePart& file, int most) {
  const std::optional<Layout> layout = read_layout(file);
  if (!layout) throw_truncated(FileKind::tiff, "the header is cut off");
  std::vector<TiffDirectory> directories;
  std::vector<std::uint64_t> seen;
  for (std::uint64_t at = layout->first; at != 0;) {
    if (std::find(seen.begin(), seen.end(), at) != seen.end())
      throw_damaged(FileKind::tiff, "its pages point back at each other");
    if (static_cast<int>(directories.size()) == most)
      throw Error("the TIFF has more than " + std::to_string(most) + " pages; split it");
    std::optional<FoundDirectory> found = read_directory(file, *layout, at);
    if (!found)
      throw_truncated(FileKind::tiff, "page " + std::to_string(directories.size() + 1) + " is cut off");
    directories.push_back(std::move(found->directory));
    seen.push_back(at);
    at = found->next;
  }
  if (directories.empty()) throw_damaged(FileKind::tiff, "it holds no page");
  return directories;
}

std::optional<TiffDirectory> first_tiff_directory(const FilePart& file) {
  const std::optional<Layout> layout = read_layout(file);
  if (!layout) return std::nullopt;
  const std::optional<FoundDirectory> found = read_directory(file, *layout, layout->first);
  return found ? std::optional(found->directory) : std::nullopt;
}

}  // namespace frisket
