#pragma once

namespace frisket {
inline constexpr const char* version = "0.1.0";
}
