#pragma once

#include <string_view>

namespace frisket {

/// True where `a` comes before `b` as people count: page2 before page10. Letters by their bytes; numbers that
/// differ only in leading zeros by length, so that no two different names are equal.
bool natural_less(std::string_view a, std::string_view b);

}  // namespace frisket
