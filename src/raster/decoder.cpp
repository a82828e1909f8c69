#include "raster/decoder.hpp"

#include "raster/imaging_library.hpp"

namespace frisket {
namespace {

using vips::VImage;
using vips::VOption;

VOption* strict() {
  return VImage::option()->set("fail_on", VIPS_FAIL_ON_TRUNCATED)->set("access", VIPS_ACCESS_SEQUENTIAL);
}

}  // namespace

VImage load_image(const OpenFile& file, FileKind kind, const FileFacts& facts) {
  // The descriptor, not the name: what is decoded is what was examined, and odd characters cannot matter.
  const vips::VSource source = vips::VSource::new_from_descriptor(file.descriptor());
  switch (kind) {
    case FileKind::tiff:
      return VImage::tiffload_source(source, strict()->set("page", facts.decoder_page));
    case FileKind::png:
      return VImage::pngload_source(source, strict());
    case FileKind::jpeg:
      return VImage::jpegload_source(source, strict());
    case FileKind::webp:
      return VImage::webpload_source(source, strict());
    default:
      return VImage::ppmload_source(source, strict());
  }
}

PdfRenderer::PdfRenderer(Bytes bytes)
    : bytes_(std::move(bytes)), blob_(vips_blob_new(nullptr, bytes_.data(), bytes_.size())) {
  load_pdf_plug_in();
}

PdfRenderer::~PdfRenderer() { vips_area_unref(VIPS_AREA(blob_)); }

int PdfRenderer::count_pages() const { return load(VImage::option()).get_int(VIPS_META_N_PAGES); }

VImage PdfRenderer::page(int number, double dpi) const {
  require_page(number, count_pages());
  return load(strict()->set("page", number - 1)->set("dpi", dpi));
}

VImage PdfRenderer::load(VOption* options) const { return VImage::pdfload_buffer(blob_, options); }

}  // namespace frisket
