#pragma once

#include <span>
#include <string_view>

namespace frisket {

/// The self-describing media names of PWG 5101.1, "Media Standardized Names": each ends in its width and
/// height with their unit, as in "na_letter_8.5x11in". In the order of the standard's tables.
std::span<const std::string_view> pwg_names();

}  // namespace frisket
