#pragma once

#include <cstdint>
#include <memory>
#include <new>
#include <utility>
#include <vector>

namespace frisket {

/// Leaves what a vector grows by as it is in memory: the pixels of a page are many, and each is written when
/// it comes. To set them all to 0 before that took a twentieth of decoding.
struct UnsetBytes : std::allocator<std::uint8_t> {
  template <class Other>
  struct rebind {
    using other = UnsetBytes;
  };

  void construct(std::uint8_t* at) noexcept { ::new (static_cast<void*>(at)) std::uint8_t; }
  template <class Value>
  void construct(std::uint8_t* at, Value&& value) noexcept {
    ::new (static_cast<void*>(at)) std::uint8_t(std::forward<Value>(value));
  }
};

/// Samples of pixels. resize() sets none of them.
using PixelBytes = std::vector<std::uint8_t, UnsetBytes>;

}  // namespace frisket
