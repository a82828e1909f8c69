#include <algorithm>

#include <vips/vips8>

#include "frisket/raster.hpp"
#include "raster/decoder.hpp"
#include "raster/kind.hpp"
#include "raster/pdf_page.hpp"

namespace frisket {
namespace {

std::int64_t largest_at(double dpi, const Bytes& document, const RasterBounds& bounds) {
  const double pixels = largest_pdf_page(document) * (dpi / points_per_inch) * (dpi / points_per_inch);
  return static_cast<std::int64_t>(std::min(pixels, static_cast<double>(bounds.pixels)));
}

std::int64_t largest_page(const OpenFile& file, FileKind kind, std::optional<double> pdf_dpi,
                          const RasterBounds& bounds) {
  if (kind == FileKind::tiff) return largest_tiff_page(file, bounds);
  if (kind == FileKind::pdf) return pdf_dpi ? largest_at(*pdf_dpi, file.read(0, file.size()), bounds) : 0;
  const vips::VImage header = load_image(file, kind, {});  // pixels are decoded only where they are asked for
  return std::int64_t{header.width()} * header.height();
}

}  // namespace

FileSurvey survey_file(const std::filesystem::path& path, std::optional<double> pdf_dpi,
                       const RasterBounds& bounds) {
  FileSurvey survey;
  survey.pages = count_pages(path, bounds);
  try {
    const OpenFile file(path);
    survey.pixels = std::min(largest_page(file, sniff(file), pdf_dpi, bounds), bounds.pixels);
  } catch (const vips::VError&) {  // open_page() will say what is wrong, in better words
    vips_error_clear();
  } catch (const Error&) {  // likewise
  }
  return survey;
}

}  // namespace frisket
