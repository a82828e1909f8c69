#include "report/base64.hpp"

#include <algorithm>
#include <string_view>

namespace frisket {

std::string base64(std::span<const std::uint8_t> bytes) {
  constexpr std::string_view digits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string text;
  text.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t at = 0; at < bytes.size(); at += 3) {
    const std::size_t count = std::min<std::size_t>(3, bytes.size() - at);
    std::uint32_t three = 0;
    for (std::size_t i = 0; i < 3; ++i) three = three << 8 | (i < count ? bytes[at + i] : 0U);
    for (std::size_t i = 0; i < 4; ++i) text += i <= count ? digits[three >> (18 - 6 * i) & 63U] : '=';
  }
  return text;
}

}  // namespace frisket
