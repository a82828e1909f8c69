#pragma once

#include <cstdint>
#include <span>
#include <string>

namespace frisket {

/// Bytes in base64 with padding (RFC 4648, section 4).
std::string base64(std::span<const std::uint8_t> bytes);

}  // namespace frisket
