#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace frisket {

/// The one of `known` that `word` was most likely meant to be: fewest letters changed, and at most two
/// in five of them. Empty where none is near.
std::optional<std::string> nearest(std::string_view word, const std::vector<std::string>& known);

/// What to add to an error about an unknown word: `did you mean "bleed"?`, or else the known ones.
std::string nearest_hint(std::string_view word, const std::vector<std::string>& known);

}  // namespace frisket
