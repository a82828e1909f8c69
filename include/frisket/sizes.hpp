#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "frisket/geometry.hpp"

namespace frisket {

/// A size that has a name in a standard or in the trade, portrait (width <= height).
struct NamedSize {
  std::string name;  ///< for people and tickets: "A4", "letter", "DL"
  Size size;
  std::string source;  ///< "ISO 216", "PWG 5101.1", "common practice, no source"
};

/// Reads "A4", "letter landscape", "DL", "iso_a4_210x297mm" (case does not matter; `landscape` swaps the
/// sides, `portrait` is the default; a PWG name keeps the order of its own numbers). Empty where no size
/// has that name.
std::optional<Size> find_named_size(std::string_view name);

/// The named sizes that `size` is within `tolerance` of on both axes, upright or turned, nearest first.
struct SizeMatch {
  NamedSize named;
  bool turned;  ///< true: as landscape
};
std::vector<SizeMatch> match_named_sizes(Size size, Length tolerance);

}  // namespace frisket
