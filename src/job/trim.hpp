#pragma once

#include <optional>
#include <string_view>

#include "job/field.hpp"

namespace frisket {

/// Sides of a page that is printed and cut: from a small label to a banner.
inline constexpr Length least_side = Length::from_mm(1), most_side = Length::from_mm(10'000);

/// Reads a page size: a pair of lengths, a text like "11x8.5in", "11in x 8.5in", or a named size ("A4
/// landscape"). One unit may stand for both sides. Throws Error that names the place and the value.
Size read_size(const Field& field);

/// The unit a page size is written in: of its lengths, or of the standard its name is from (A4: mm, letter:
/// in). Empty where it has only bare numbers, or is no size.
std::optional<Unit> unit_of_size(const nlohmann::json& value);

}  // namespace frisket
