#include <gmodule.h>

#include <cstdlib>
#include <mutex>
#include <optional>
#include <string>
#include <vips/vips8>

#include "frisket/raster.hpp"
#include "raster/imaging_library.hpp"
#include "raster/loader_messages.hpp"

namespace frisket {
namespace {

/// Every loader is shut but those that open_page() calls by name, and SVG from memory for frisket's own
/// overlay.
void block_loaders() {
  vips_block_untrusted_set(TRUE);
  vips_operation_block_set("VipsForeignLoad", TRUE);
  for (const char* needed : {"VipsForeignLoadTiff", "VipsForeignLoadPng", "VipsForeignLoadJpeg",
                             "VipsForeignLoadWebp", "VipsForeignLoadPpm", "VipsForeignLoadSvgBuffer"})
    vips_operation_block_set(needed, FALSE);
  if (opens_pdf()) vips_operation_block_set("VipsForeignLoadPdfBuffer", FALSE);
}

/// Hides libvips' plug-ins from it while it starts: it would load all of them, with the libraries behind them
/// (for HEIF, JPEG XL, slide scanners, ImageMagick), which frisket never uses. They take as long as all the
/// rest.
class WithoutPlugIns {
 public:
  WithoutPlugIns() {
    if (const char* home = std::getenv(variable)) before_ = home;
    setenv(variable, "/nonexistent", 1);
  }
  ~WithoutPlugIns() { before_ ? setenv(variable, before_->c_str(), 1) : unsetenv(variable); }
  WithoutPlugIns(const WithoutPlugIns&) = delete;
  WithoutPlugIns& operator=(const WithoutPlugIns&) = delete;

 private:
  static constexpr const char* variable = "VIPSHOME";  ///< libvips looks for its plug-ins below it
  std::optional<std::string> before_;
};

}  // namespace

void load_pdf_plug_in() {
  static std::once_flag once;
  std::call_once(once, [] {
    if (vips_type_find("VipsOperation", "pdfload_buffer") != 0) return;  // built in
    if (g_module_open(FRISKET_VIPS_PLUG_INS "/vips-poppler." G_MODULE_SUFFIX, G_MODULE_BIND_LAZY) == nullptr)
      throw Error("PDF pages cannot be opened: libvips' plug-in for them is missing; install libvips again");
    block_loaders();
  });
}

bool opens_pdf() { return FRISKET_PDF != 0; }

ImagingLibrary::ImagingLibrary(const char* program) {
  capture_log();
  const WithoutPlugIns hidden;
  if (VIPS_INIT(program) != 0) throw Error("libvips does not start: " + error_text() + "; install it again");
  block_loaders();
  // Every page is opened once: remembered operations would only hold memory and files.
  vips_cache_set_max(0);
}

void ImagingLibrary::use_threads(int threads) { vips_concurrency_set(threads); }

ImagingLibrary::~ImagingLibrary() { vips_shutdown(); }

}  // namespace frisket
