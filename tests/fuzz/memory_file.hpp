#pragma once

#include <sys/mman.h>
#include <unistd.h>

#include <cstdint>
#include <filesystem>
#include <span>
#include <stdexcept>
#include <string>

namespace frisket {

/// Bytes as a file that has a name and lies on no disk.
class MemoryFile {
 public:
  explicit MemoryFile(std::span<const std::uint8_t> bytes) : descriptor_(memfd_create("page", MFD_CLOEXEC)) {
    if (descriptor_ < 0 || write(descriptor_, bytes.data(), bytes.size()) != ssize_t(bytes.size()))
      throw std::runtime_error("no file in memory");
  }
  ~MemoryFile() { close(descriptor_); }
  MemoryFile(const MemoryFile&) = delete;
  MemoryFile& operator=(const MemoryFile&) = delete;

  std::filesystem::path path() const { return "/proc/self/fd/" + std::to_string(descriptor_); }

 private:
  int descriptor_;
};

}  // namespace frisket
