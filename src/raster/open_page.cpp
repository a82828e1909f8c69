#include <algorithm>
#include <cmath>
#include <cstring>
#include <exception>
#include <iterator>
#include <mutex>
#include <new>

#include <vips/vips8>

#include "frisket/decoding_watcher.hpp"
#include "raster/colour.hpp"
#include "raster/decoder.hpp"
#include "raster/decoding_faults.hpp"
#include "raster/loader_messages.hpp"
#include "raster/pdf_page.hpp"
#include "raster/resolution.hpp"

namespace frisket {
namespace {

using vips::VImage;

/// libvips keeps one error text for the whole process; pages are decoded one at a time so that a message is
/// about its own page. (A decoder uses every core by itself.)
std::mutex decoding;

FileKind kind_of(const OpenFile& file, const RasterBounds& bounds) {
  const FileKind kind = sniff(file);
  if (kind == FileKind::pdf && !(bounds.pdf && opens_pdf()))
    throw Error("PDF pages are not opened here; export the page as TIFF or PNG");
  return kind;
}

FileFacts facts_of(const OpenFile& file, FileKind kind, int number, const RasterBounds& bounds) {
  if (kind == FileKind::tiff) return tiff_facts(file, number, bounds);
  if (kind == FileKind::pdf) return pdf_facts(file, bounds);  // its pages are counted by the decoder
  require_page(number, 1);
  switch (kind) {
    case FileKind::png:
      return png_facts(file, bounds);
    case FileKind::jpeg:
      return jpeg_facts(file, bounds);
    case FileKind::webp:
      return webp_facts(file, bounds);
    default:
      return ppm_facts(file, bounds);
  }
}

double require_pdf_dpi(std::optional<double> dpi) {
  if (!dpi)
    throw Error(
        "a PDF page has no pixels of its own; say at which resolution to render it: add \"dpi\": 300 to the "
        "ticket or give --dpi 300");
  if (!(*dpi >= 10.0 && *dpi <= 10'000.0))
    throw Error("a PDF page is rendered at 10 to 10 000 dpi; choose one in between");
  return *dpi;
}

/// Exif orientation: all but 1 turn or mirror the page.
VImage upright(const VImage& image, int orientation) {
  if (orientation <= 1 || orientation > 8) return image;
  VImage whole = image.copy_memory();  // turning reads the rows in another order than a decoder gives them
  whole.set(VIPS_META_ORIENTATION, orientation);
  return whole.autorot();
}

int orientation_of(const VImage& image) {
  return image.get_typeof(VIPS_META_ORIENTATION) == 0 ? 1 : image.get_int(VIPS_META_ORIENTATION);
}

/// Takes the rows that libvips hands over and tells of them.
struct RowTaker {
  Raster& raster;
  DecodingWatcher* watcher;    ///< may be null
  std::exception_ptr fault{};  ///< must not be thrown through libvips, which is C

  int take(VipsRegion* region, const VipsRect& area) {
    const std::size_t row = static_cast<std::size_t>(raster.width) * 3;
    for (int y = area.top; y < area.top + area.height; ++y)
      std::memcpy(raster.rgb.data() + static_cast<std::size_t>(y) * row, VIPS_REGION_ADDR(region, 0, y), row);
    try {
      if (watcher != nullptr) watcher->rows_decoded(raster, area.top + area.height);
      return 0;
    } catch (...) {
      fault = std::current_exception();
      return -1;
    }
  }

  static int taken(VipsRegion* region, VipsRect* area, void* taker) {
    return static_cast<RowTaker*>(taker)->take(region, *area);
  }
};

/// Says that decoding has ended, whatever way it does.
class Watched {
 public:
  explicit Watched(DecodingWatcher* watcher) : watcher_(watcher) {}
  ~Watched() {
    if (watcher_ != nullptr) watcher_->decoding_ended();
  }
  Watched(const Watched&) = delete;
  Watched& operator=(const Watched&) = delete;

 private:
  DecodingWatcher* watcher_;
};

/// Decodes on all cores; rows are taken in their order by one thread.
void decode_into(Raster& raster, const VImage& image, DecodingWatcher* watcher) {
  raster.width = image.width();
  raster.height = image.height();
  raster.rgb.resize(static_cast<std::size_t>(raster.width) * static_cast<std::size_t>(raster.height) * 3);
  RowTaker taker{raster, watcher};
  const int result = vips_sink_disc(image.get_image(), RowTaker::taken, &taker);
  if (taker.fault) std::rethrow_exception(taker.fault);
  if (result != 0) throw vips::VError();
}

/// libvips 8.14 gives the samples of a PPM as they are, even where its white is 100 or 1023.
VImage with_full_white(const VImage& image, std::optional<int> white) {
  if (!white) return image;
  constexpr double rounding = 0.5;
  const VipsInterpretation meaning = image.bands() == 1 ? VIPS_INTERPRETATION_B_W : VIPS_INTERPRETATION_sRGB;
  return image.linear(255.0 / *white, rounding)
      .cast(VIPS_FORMAT_UCHAR)
      .copy(VImage::option()->set("interpretation", meaning));
}

void require_profile_within(const VImage& decoded, const RasterBounds& bounds) {
  if (decoded.get_typeof(VIPS_META_ICC_NAME) == 0) return;
  std::size_t bytes = 0;
  decoded.get_blob(VIPS_META_ICC_NAME, &bytes);
  if (static_cast<std::int64_t>(bytes) > bounds.profile_bytes)
    throw Error("its colour profile has " + std::to_string(bytes) + " bytes; at most " +
                std::to_string(bounds.profile_bytes) + " are opened; export it with a usual profile");
}

void decode(Raster& raster, const VImage& decoded, const FileFacts& facts, FileKind kind,
            const RasterBounds& bounds, DecodingWatcher* watcher) {
  require_within({decoded.width(), decoded.height()}, bounds);
  require_profile_within(decoded, bounds);
  ScreenColours screen = to_screen_colours(with_full_white(decoded, facts.white), facts.extra_is_alpha);
  std::ranges::move(screen.notes, std::back_inserter(raster.notes));
  std::ranges::move(screen.unseen, std::back_inserter(raster.unseen));
  raster.colour = screen.colour;
  decode_into(raster, upright(screen.image, orientation_of(decoded)), watcher);
  require_no_holes(kind);
  for (std::string& note : warnings_worth_knowing(kind)) raster.notes.push_back(std::move(note));
}

PageBoxes boxes_in_pixels(const PdfPage& page, double dpi) {
  const auto in_pixels = [&](const std::optional<PdfPage::Box>& box) -> std::optional<PixelRect> {
    if (!box) return std::nullopt;
    const double scale = dpi / points_per_inch;
    return PixelRect{box->x * scale, box->y * scale, box->width * scale, box->height * scale};
  };
  return {in_pixels(page.trim), in_pixels(page.bleed), in_pixels(page.crop)};
}

PixelSize size_in_pixels(const PdfPage& page, double dpi) {
  constexpr double most = 1e9;  // more than any bound
  const auto pixels = [&](double points) {
    return static_cast<std::int64_t>(std::min(most, std::ceil(points * dpi / points_per_inch)));
  };
  return {pixels(page.width), pixels(page.height)};
}

/// What libvips is asked for: it knows nothing of a page's UserUnit.
double dpi_of_units(const PdfPage& page, double dpi) {
  constexpr double most = 100'000;  // libvips' own bound
  const double of_units = dpi * page.user_unit;
  if (of_units > most)
    throw Error("the page is " + std::to_string(static_cast<int>(page.user_unit)) +
                " times larger than its numbers say (UserUnit), too large to be rendered; export it again");
  return of_units;
}

void open_pdf_page(Raster& raster, const OpenFile& file, int number, double dpi, const RasterBounds& bounds,
                   DecodingWatcher* watcher) {
  Bytes bytes = file.read(0, file.size());
  PdfPage page = read_pdf_page(bytes, number);
  require_within(size_in_pixels(page, dpi), bounds);
  raster.file_dpi = dpi;
  raster.boxes = boxes_in_pixels(page, dpi);
  for (std::string& note : page.notes) raster.notes.push_back(std::move(note));
  const PdfRenderer document(page.uncropped ? std::move(*page.uncropped) : std::move(bytes));
  decode(raster, document.page(number, dpi_of_units(page, dpi)), {}, FileKind::pdf, bounds, watcher);
}

}  // namespace

std::string_view colour_space_name(ColourSpace colour) {
  switch (colour) {
    case ColourSpace::srgb:
      return "srgb";
    case ColourSpace::grey:
      return "grey";
    case ColourSpace::cmyk:
      return "cmyk";
  }
  return "";
}

int count_pages(const std::filesystem::path& path, const RasterBounds& bounds) {
  const OpenFile file(path);
  const FileKind kind = kind_of(file, bounds);
  if (kind == FileKind::tiff) return count_tiff_pages(file, bounds);
  if (kind != FileKind::pdf) return 1;
  const std::lock_guard lock(decoding);
  forget_messages();
  try {
    pdf_facts(file, bounds);
    const int pages = PdfRenderer(file.read(0, file.size())).count_pages();
    if (pages > bounds.pages)
      throw Error("the PDF has " + std::to_string(pages) + " pages; at most " + std::to_string(bounds.pages) +
                  " are opened; split it");
    return pages;
  } catch (const vips::VError&) {
    throw_undecodable(kind);
  }
}

Raster open_page(const std::filesystem::path& path, int number, std::optional<double> pdf_dpi,
                 const RasterBounds& bounds) {
  return open_page(path, number, pdf_dpi, bounds, nullptr);
}

Raster open_page(const std::filesystem::path& path, int number, std::optional<double> pdf_dpi,
                 const RasterBounds& bounds, DecodingWatcher* watcher) {
  const OpenFile file(path);
  const FileKind kind = kind_of(file, bounds);
  const FileFacts facts = facts_of(file, kind, number, bounds);
  Raster raster;
  raster.format = kind_name(kind);
  raster.lossy = facts.lossy;
  raster.notes = facts.notes;
  raster.unseen = facts.unseen;
  if (const auto note = misleading_extension(path, kind)) raster.notes.push_back(*note);
  raster.file_dpi = agreed_dpi(facts.resolutions, raster.notes);
  const Watched watched(watcher);
  const std::lock_guard lock(decoding);
  forget_messages();
  try {
    if (kind == FileKind::pdf)
      open_pdf_page(raster, file, number, require_pdf_dpi(pdf_dpi), bounds, watcher);
    else
      decode(raster, load_image(file, kind, facts), facts, kind, bounds, watcher);
  } catch (const vips::VError&) {
    throw_undecodable(kind);
  } catch (const std::bad_alloc&) {
    throw Error("there is not enough memory for the page; export it at a lower resolution");
  }
  return raster;
}

}  // namespace frisket
