#include <nettle/sha2.h>

#include <array>

#include "frisket/raster.hpp"
#include "raster/file_bytes.hpp"

namespace frisket {
namespace {

/// Nettle's, which uses the processor's own instructions where it has them.
class Sha256 {
 public:
  Sha256() { sha256_init(&state_); }
  void add(const std::uint8_t* bytes, std::size_t count) { sha256_update(&state_, count, bytes); }
  std::string digits() {
    std::array<std::uint8_t, SHA256_DIGEST_SIZE> digest{};
    sha256_digest(&state_, digest.size(), digest.data());
    std::string text;
    for (const std::uint8_t byte : digest)
      text += {"0123456789abcdef"[byte >> 4], "0123456789abcdef"[byte & 15]};
    return text;
  }

 private:
  sha256_ctx state_{};
};

}  // namespace

std::string file_sha256(const std::filesystem::path& path) {
  constexpr std::size_t block = 1 << 20;
  const OpenFile file(path);
  Sha256 sum;
  for (std::uint64_t at = 0; at < file.size(); at += block) {
    const Bytes bytes = file.read(at, block);
    sum.add(bytes.data(), bytes.size());
  }
  return sum.digits();
}

std::string text_sha256(std::string_view text) {
  Sha256 sum;
  sum.add(reinterpret_cast<const std::uint8_t*>(text.data()), text.size());
  return sum.digits();
}

}  // namespace frisket
