#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <vector>

namespace frisket {

using Bytes = std::vector<std::uint8_t>;

enum class ByteOrder { big, little };
/// The unsigned number in the `count` (1 to 8) bytes from `at`. The bytes must be there.
std::uint64_t number_in(const Bytes& bytes, std::size_t at, std::size_t count, ByteOrder order);
/// True where `bytes` holds `text` from `at` on.
bool holds(const Bytes& bytes, std::size_t at, std::string_view text);

/// A regular file, opened once. It is read, never mapped into memory: a file that shrinks meanwhile gives a
/// short read, not a crash.
class OpenFile {
 public:
  /// Throws Error where the file is missing, is no regular file (symbolic links are followed), cannot be
  /// read or is empty. Never waits for a pipe or a device.
  explicit OpenFile(const std::filesystem::path& file);
  ~OpenFile();
  OpenFile(const OpenFile&) = delete;
  OpenFile& operator=(const OpenFile&) = delete;

  std::uint64_t size() const { return size_; }
  /// For the decoder, which then reads the very file that was examined. Positioned at the first byte.
  int descriptor() const { return descriptor_; }
  /// Up to `count` bytes from `at`; fewer where the file ends.
  Bytes read(std::uint64_t at, std::size_t count) const;

 private:
  int descriptor_ = -1;
  std::uint64_t size_ = 0;
};

/// A stretch of an open file that has its own positions from 0: the whole file, or a block inside it.
class FilePart {
 public:
  FilePart(const OpenFile& file) : file_(&file), size_(file.size()) {}
  FilePart(const FilePart& whole, std::uint64_t begin, std::uint64_t size);

  std::uint64_t size() const { return size_; }
  /// Up to `count` bytes from `at`; fewer where the part ends.
  Bytes read(std::uint64_t at, std::uint64_t count) const;
  /// True where `count` bytes from `at` lie inside the part.
  bool holds(std::uint64_t at, std::uint64_t count) const { return at <= size_ && count <= size_ - at; }

 private:
  const OpenFile* file_;
  std::uint64_t begin_ = 0;
  std::uint64_t size_ = 0;
};

/// Reads a part byte by byte, through a buffer.
class ByteCursor {
 public:
  explicit ByteCursor(const FilePart& part, std::uint64_t at = 0) : part_(part), begin_(at) {}
  /// The next byte; empty at the end.
  std::optional<std::uint8_t> next();
  /// Position of the byte that next() gives.
  std::uint64_t position() const { return begin_ + used_; }
  void move_to(std::uint64_t at);

 private:
  FilePart part_;
  std::uint64_t begin_;
  std::size_t used_ = 0;
  Bytes buffer_;
};

}  // namespace frisket
