#pragma once

#include <algorithm>
#include <cstdint>
#include <cstring>
#include <span>
#include <string>

namespace frisket {

/// Values drawn from the bytes that a fuzzer gives, from the front; zeros once they are used up. The same
/// bytes always give the same values.
class Drawn {
 public:
  explicit Drawn(std::span<const std::uint8_t> bytes) : bytes_(bytes) {}

  bool empty() const { return bytes_.empty(); }

  template <class Value>
  Value raw() {
    Value value{};
    const std::size_t count = std::min(sizeof value, bytes_.size());
    std::memcpy(&value, bytes_.data(), count);
    bytes_ = bytes_.subspan(count);
    return value;
  }
  std::uint8_t byte() { return raw<std::uint8_t>(); }
  bool coin() { return (byte() & 1) != 0; }
  /// From `least` to `most`, both included.
  int between(int least, int most) {
    return least + static_cast<int>(raw<std::uint32_t>() % static_cast<std::uint32_t>(most - least + 1));
  }
  template <class Value, std::size_t count>
  const Value& one_of(const Value (&values)[count]) {
    return values[byte() % count];
  }
  /// Any bytes at all, `most` at most: a length, then the text.
  std::string text(std::size_t most = 255) {
    const std::size_t count = std::min({std::size_t{byte()}, most, bytes_.size()});
    std::string text(reinterpret_cast<const char*>(bytes_.data()), count);
    bytes_ = bytes_.subspan(count);
    return text;
  }
  std::string rest() { return {reinterpret_cast<const char*>(bytes_.data()), bytes_.size()}; }

 private:
  std::span<const std::uint8_t> bytes_;
};

}  // namespace frisket
