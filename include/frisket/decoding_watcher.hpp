#pragma once

#include "frisket/raster.hpp"

namespace frisket {

/// Told how far a page is decoded, so that its upper rows can be looked at while the rest is still to come.
class DecodingWatcher {
 public:
  virtual ~DecodingWatcher() = default;
  /// The first `rows` rows of `page`, whose size and `lossy` are known by then, hold and stay where they are
  /// in memory; the rest does not hold yet. Called by a thread of the decoder, with `rows` ever larger, up to
  /// the page's height. What it throws, open_page() throws.
  virtual void rows_decoded(const Raster& page, int rows) = 0;
  /// The page is decoded, or never will be. Nobody may look at its rows once this has returned.
  virtual void decoding_ended() noexcept = 0;
};

/// open_page() that tells `watcher`.
Raster open_page(const std::filesystem::path& file, int number, std::optional<double> pdf_dpi,
                 const RasterBounds& bounds, DecodingWatcher* watcher);

}  // namespace frisket
