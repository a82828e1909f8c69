#include "raster/file_bytes.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <string>
#include <system_error>

#include "frisket/error.hpp"

namespace frisket {
namespace {

constexpr std::size_t buffer_bytes = 1 << 16;

[[noreturn]] void throw_system_error(int code) {
  if (code == ENOENT || code == ENOTDIR) throw Error("there is no such file; check the path");
  if (code == EACCES) throw Error("the file may not be read; change its permissions or copy it");
  throw Error("the file cannot be opened: " + std::generic_category().message(code));
}

void require_regular(const struct stat& status) {
  if (S_ISDIR(status.st_mode)) throw Error("this is a folder, not a page; name a file in it");
  if (!S_ISREG(status.st_mode))
    throw Error("this is a pipe or a device, not a file; save the page to a file first");
  if (status.st_size == 0) throw Error("the file is empty; export or copy it again");
}

}  // namespace

std::uint64_t number_in(const Bytes& bytes, std::size_t at, std::size_t count, ByteOrder order) {
  std::uint64_t value = 0;
  for (std::size_t i = 0; i < count; ++i)
    value = value << 8 | bytes[order == ByteOrder::big ? at + i : at + count - 1 - i];
  return value;
}

bool holds(const Bytes& bytes, std::size_t at, std::string_view text) {
  return at + text.size() <= bytes.size() && std::memcmp(bytes.data() + at, text.data(), text.size()) == 0;
}

OpenFile::OpenFile(const std::filesystem::path& file) {
  struct stat status {};
  // Looked at before it is opened: opening a pipe or a device can wait for ever or set something off.
  if (::stat(file.c_str(), &status) != 0) throw_system_error(errno);
  require_regular(status);
  descriptor_ = ::open(file.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK);
  if (descriptor_ < 0) throw_system_error(errno);
  // What was opened may be another file than what was looked at.
  const int result = ::fstat(descriptor_, &status);
  const int error = errno;
  try {
    if (result != 0) throw_system_error(error);
    require_regular(status);
  } catch (const Error&) {
    ::close(descriptor_);
    throw;
  }
  size_ = static_cast<std::uint64_t>(status.st_size);
}

OpenFile::~OpenFile() { ::close(descriptor_); }

Bytes OpenFile::read(std::uint64_t at, std::size_t count) const {
  if (at >= size_) return {};
  Bytes bytes(static_cast<std::size_t>(std::min<std::uint64_t>(count, size_ - at)));
  std::size_t filled = 0;
  while (filled < bytes.size()) {
    const ssize_t got =
        ::pread(descriptor_, bytes.data() + filled, bytes.size() - filled, static_cast<off_t>(at + filled));
    if (got < 0 && errno == EINTR) continue;
    if (got < 0) throw Error("the file cannot be read: " + std::generic_category().message(errno));
    if (got == 0) break;
    filled += static_cast<std::size_t>(got);
  }
  bytes.resize(filled);
  return bytes;
}

FilePart::FilePart(const FilePart& whole, std::uint64_t begin, std::uint64_t size)
    : file_(whole.file_),
      begin_(whole.begin_ + std::min(begin, whole.size_)),
      size_(std::min(size, whole.size_ - std::min(begin, whole.size_))) {}

Bytes FilePart::read(std::uint64_t at, std::uint64_t count) const {
  if (at >= size_) return {};
  return file_->read(begin_ + at, static_cast<std::size_t>(std::min(count, size_ - at)));
}

std::optional<std::uint8_t> ByteCursor::next() {
  if (used_ == buffer_.size()) {
    move_to(position());
    buffer_ = part_.read(begin_, buffer_bytes);
    if (buffer_.empty()) return std::nullopt;
  }
  return buffer_[used_++];
}

void ByteCursor::move_to(std::uint64_t at) {
  if (at >= begin_ && at - begin_ <= buffer_.size()) {
    used_ = static_cast<std::size_t>(at - begin_);
    if (used_ < buffer_.size()) return;
  }
  begin_ = at;
  used_ = 0;
  buffer_.clear();
}

}  // namespace frisket
