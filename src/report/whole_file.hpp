#pragma once

#include <cstdint>
#include <filesystem>
#include <span>
#include <string>

namespace frisket {

/// A file that is there whole or not at all: written under a temporary name beside its place, renamed when it
/// is finished, and removed where it was not. All of it throws Error with the reason and the remedy.
class WholeFile {
 public:
  explicit WholeFile(const std::filesystem::path& target);
  ~WholeFile();
  WholeFile(const WholeFile&) = delete;
  WholeFile& operator=(const WholeFile&) = delete;

  void write(std::span<const std::uint8_t> bytes);
  void write(const std::string& text);
  /// Puts it in its place; nothing may be written after.
  void finish();

 private:
  std::filesystem::path target_, path_;
  int descriptor_ = -1;
};

}  // namespace frisket
