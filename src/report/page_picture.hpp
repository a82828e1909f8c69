#pragma once

#include <cstddef>
#include <optional>
#include <string>

#include "frisket/inspect.hpp"

namespace frisket {

/// A compressed picture as a data URI, "data:image/webp;base64,…".
struct PagePicture {
  std::string uri;
  int width = 0, height = 0;  ///< pixels
};

/// The whole page in its colours: its longer side at most `longest_px` pixels, and less where the URI would
/// be longer than `most_bytes`. Throws Error where it cannot be compressed.
PagePicture page_picture(const Raster& raster, int longest_px, std::size_t most_bytes);

/// A cut of the page, and which canvas pixels it is of.
struct PageCut {
  PagePicture picture;
  PixelRect area;
};
/// What lies under `area` (canvas pixels, may reach beyond the canvas), in whole pixels, with its longer side
/// at most `longest_px` pixels and the URI at most `most_bytes` long. Empty where nothing of the page lies
/// there. Throws Error likewise.
std::optional<PageCut> page_cut(const Raster& raster, const PixelRect& area, int longest_px,
                                std::size_t most_bytes);

}  // namespace frisket
