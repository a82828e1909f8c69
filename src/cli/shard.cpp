#include "cli/shard.hpp"

#include <charconv>
#include <cstdint>
#include <filesystem>

#include "frisket/error.hpp"

namespace frisket {
namespace {

/// FNV-1a, 64 bits (RFC 9923): the same on every machine.
std::uint64_t hash_of(const std::string& text) {
  std::uint64_t hash = 14695981039346656037U;
  for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211U;
  return hash;
}

}  // namespace

Shard parse_shard(const std::string& text) {
  Shard shard;
  const char* end = text.data() + text.size();
  const auto part = std::from_chars(text.data(), end, shard.part);
  if (part.ec == std::errc() && part.ptr != end && *part.ptr == '/') {
    const auto of = std::from_chars(part.ptr + 1, end, shard.of);
    if (of.ec == std::errc() && of.ptr == end && shard.part >= 1 && shard.part <= shard.of) return shard;
  }
  throw Error("--shard is '" + text +
              "'; expected the part and their number, from 1/8 to 8/8 for eight parts");
}

bool is_in(const std::optional<Shard>& shard, const std::string& name) {
  if (!shard) return true;
  const auto of = static_cast<std::uint64_t>(shard->of);
  return hash_of(name) % of == static_cast<std::uint64_t>(shard->part) - 1;
}

std::string with_part(const std::string& file_name, const std::optional<Shard>& shard) {
  if (!shard) return file_name;
  const std::filesystem::path name(file_name);
  return name.stem().string() + "-" + std::to_string(shard->part) + "-of-" + std::to_string(shard->of) +
         name.extension().string();
}

}  // namespace frisket
