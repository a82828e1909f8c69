#pragma once

#include <array>
#include <string_view>

namespace frisket {

/// The filters that renderers and image editors enlarge pictures with, apart from repeating pixels.
enum class Kernel { bilinear, catmull_rom, cubic, mitchell, lanczos3, lanczos4, area };

/// "bilinear", "Catmull-Rom", "cubic", "Mitchell", "Lanczos 3", "Lanczos 4" or "area".
std::string_view kernel_name(Kernel kernel);

/// Half the width of the filter, in pixels of the picture.
int kernel_reach(Kernel kernel);

/// Weight of a picture pixel at distance `t` (in picture pixels) from the point that is drawn, for a picture
/// enlarged `factor` times. The cubic filters are the (B, C) family of Mitchell and Netravali,
/// Reconstruction Filters in Computer Graphics, SIGGRAPH 1988: Catmull-Rom (0, 1/2), cubic (0, 3/4),
/// Mitchell (1/3, 1/3). Area is one picture pixel seen through one page pixel.
double kernel_weight(Kernel kernel, double t, double factor);

}  // namespace frisket
