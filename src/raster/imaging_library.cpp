#include <vips/vips8>

#include "frisket/raster.hpp"
#include "raster/loader_messages.hpp"

namespace frisket {
namespace {

/// Every loader is shut but those that open_page() calls by name, and SVG from memory for frisket's own
/// overlay.
void block_loaders() {
  vips_block_untrusted_set(TRUE);
  vips_operation_block_set("VipsForeignLoad", TRUE);
  for (const char* needed :
       {"VipsForeignLoadTiff", "VipsForeignLoadPng", "VipsForeignLoadJpeg", "VipsForeignLoadWebp",
        "VipsForeignLoadPpm", "VipsForeignLoadPdfBuffer", "VipsForeignLoadSvgBuffer"})
    vips_operation_block_set(needed, FALSE);
}

}  // namespace

ImagingLibrary::ImagingLibrary(const char* program) {
  capture_log();
  if (VIPS_INIT(program) != 0) throw Error("libvips does not start: " + error_text() + "; install it again");
  block_loaders();
  // Every page is opened once: remembered operations would only hold memory and files.
  vips_cache_set_max(0);
}

void ImagingLibrary::use_threads(int threads) { vips_concurrency_set(threads); }

ImagingLibrary::~ImagingLibrary() { vips_shutdown(); }

}  // namespace frisket
