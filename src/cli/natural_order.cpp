#include "cli/natural_order.hpp"

#include <cstddef>

namespace frisket {
namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// The digits at the front of `text`, without leading zeros; `text` goes on behind them.
std::string_view take_number(std::string_view& text) {
  std::size_t end = 0;
  while (end < text.size() && is_digit(text[end])) ++end;
  std::string_view digits = text.substr(0, end);
  while (digits.size() > 1 && digits.front() == '0') digits.remove_prefix(1);
  text.remove_prefix(end);
  return digits;
}

}  // namespace

bool natural_less(std::string_view a, std::string_view b) {
  const std::string_view whole_a = a, whole_b = b;
  while (!a.empty() && !b.empty()) {
    if (is_digit(a.front()) && is_digit(b.front())) {
      const std::string_view number_a = take_number(a), number_b = take_number(b);
      if (number_a.size() != number_b.size()) return number_a.size() < number_b.size();
      if (number_a != number_b) return number_a < number_b;
    } else {
      if (a.front() != b.front())
        return static_cast<unsigned char>(a.front()) < static_cast<unsigned char>(b.front());
      a.remove_prefix(1);
      b.remove_prefix(1);
    }
  }
  if (a.size() != b.size()) return a.size() < b.size();
  return whole_a < whole_b;
}

}  // namespace frisket
