#include "report/printable.hpp"

#include <array>
#include <cassert>
#include <cstdio>

namespace frisket {
namespace {

/// Bytes of the sequence that `lead` opens; 0 where no sequence opens with it.
std::size_t sequence_length(unsigned char lead) {
  if (lead < 0x80) return 1;
  if (lead >= 0xC2 && lead <= 0xDF) return 2;
  if (lead >= 0xE0 && lead <= 0xEF) return 3;
  if (lead >= 0xF0 && lead <= 0xF4) return 4;
  return 0;
}

bool is_scalar_value(char32_t point, std::size_t length) {
  constexpr std::array<char32_t, 5> least{0, 0, 0x80, 0x800, 0x10000};
  return point >= least[length] && point <= 0x10FFFF && (point < 0xD800 || point > 0xDFFF);
}

std::optional<char32_t> decoded(std::string_view sequence) {
  constexpr std::array<unsigned char, 5> lead_bits{0, 0x7F, 0x1F, 0x0F, 0x07};
  char32_t point = static_cast<unsigned char>(sequence[0]) & lead_bits[sequence.size()];
  for (const char next : sequence.substr(1)) {
    const auto byte = static_cast<unsigned char>(next);
    if ((byte & 0xC0) != 0x80) return std::nullopt;
    point = point << 6 | (byte & 0x3F);
  }
  return is_scalar_value(point, sequence.size()) ? std::optional(point) : std::nullopt;
}

/// Characters that would break the line, steer a terminal or turn the text around it.
bool is_unsafe(char32_t point) {
  const bool control = point < 0x20 || (point >= 0x7F && point <= 0x9F);
  const bool separator = point == 0x2028 || point == 0x2029;
  const bool direction = point == 0x061C || point == 0x200E || point == 0x200F ||
                         (point >= 0x202A && point <= 0x202E) || (point >= 0x2066 && point <= 0x2069);
  const bool no_character = (point & 0xFFFE) == 0xFFFE || point == 0xFEFF;
  return control || separator || direction || no_character;
}

std::string written_out(char32_t point) {
  if (point == '\n') return "\\n";
  if (point == '\r') return "\\r";
  if (point == '\t') return "\\t";
  std::array<char, 16> code{};
  std::snprintf(code.data(), code.size(), point < 0x100 ? "\\x%02x" : "\\u%04x",
                static_cast<unsigned>(point));
  return code.data();
}

}  // namespace

Character first_character(std::string_view text) {
  assert(!text.empty());
  const std::size_t length = sequence_length(static_cast<unsigned char>(text[0]));
  if (length == 0 || length > text.size()) return {text.substr(0, 1), std::nullopt};
  const std::string_view sequence = text.substr(0, length);
  const auto point = decoded(sequence);
  return {point ? sequence : text.substr(0, 1), point};
}

std::string printable(std::string_view text) {
  std::string line;
  while (!text.empty()) {
    const Character next = first_character(text);
    if (!next.point)
      line += written_out(static_cast<unsigned char>(next.bytes[0]));
    else if (is_unsafe(*next.point))
      line += written_out(*next.point);
    else
      line += next.bytes;
    text.remove_prefix(next.bytes.size());
  }
  return line;
}

}  // namespace frisket
