#pragma once

#include <vips/vips8>

#include "raster/file_facts.hpp"

namespace frisket {

// Loaders are called by name, never picked by libvips; all of them may throw vips::VError.

/// The page of a TIFF, PNG, JPEG, WebP or PPM. Pixels are decoded from top to bottom when they are asked for,
/// while `file` is open.
vips::VImage load_image(const OpenFile& file, FileKind kind, const FileFacts& facts);

/// A PDF in memory; libvips reads it from there, so that nothing else is opened on its behalf.
class PdfRenderer {
 public:
  explicit PdfRenderer(Bytes bytes);
  ~PdfRenderer();
  PdfRenderer(const PdfRenderer&) = delete;
  PdfRenderer& operator=(const PdfRenderer&) = delete;

  int count_pages() const;
  /// Page `number` (from 1) at `dpi` dots to 72 units of the page. Throws Error where there is none. libvips
  /// 8.14 renders the crop box only: what lies outside of it, bleed for instance, is not seen.
  vips::VImage page(int number, double dpi) const;

 private:
  vips::VImage load(vips::VOption* options) const;

  Bytes bytes_;
  VipsBlob* blob_;
};

}  // namespace frisket
