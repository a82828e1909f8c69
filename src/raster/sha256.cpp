#include <memory>

#include <glib.h>

#include "frisket/raster.hpp"
#include "raster/file_bytes.hpp"

namespace frisket {
namespace {

/// GLib's, which libvips brings along.
class Sha256 {
 public:
  void add(const std::uint8_t* bytes, std::size_t count) {
    g_checksum_update(state_.get(), bytes, static_cast<gssize>(count));
  }
  std::string digits() const { return g_checksum_get_string(state_.get()); }

 private:
  std::unique_ptr<GChecksum, void (*)(GChecksum*)> state_{g_checksum_new(G_CHECKSUM_SHA256), g_checksum_free};
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
