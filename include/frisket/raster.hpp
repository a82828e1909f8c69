#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "frisket/error.hpp"
#include "frisket/geometry.hpp"
#include "frisket/pixel_bytes.hpp"

namespace frisket {

/// The colour space of the file, before frisket turned it into sRGB.
enum class ColourSpace { srgb, grey, cmyk };
/// "srgb", "grey" or "cmyk".
std::string_view colour_space_name(ColourSpace colour);

/// The boxes that a PDF page says explicitly (ISO 32000-1, 14.11.2), in pixels of the upright raster, cut
/// down to the media box, which the raster is. A box that is missing stays empty: no default stands for it.
struct PageBoxes {
  std::optional<PixelRect> trim, bleed;
  std::optional<PixelRect> crop;  ///< only where it shows less than the whole media box
};

/// One page, decoded and upright (EXIF orientation obeyed), alpha flattened on paper white.
struct Raster {
  int width = 0;                   ///< pixels
  int height = 0;                  ///< pixels
  PixelBytes rgb;                  ///< width * height * 3 bytes, row by row, R G B of sRGB
  std::optional<double> file_dpi;  ///< what the file says, dots per inch; empty where it says nothing
  ColourSpace colour = ColourSpace::srgb;
  std::string format;              ///< "PNG", "TIFF", "JPEG", "WebP", "PPM" or "PDF"
  bool lossy = false;              ///< compressed with loss: colours of flat areas may waver
  PageBoxes boxes;                 ///< of a PDF page
  std::vector<std::string> notes;  ///< sentences worth knowing: a misleading extension, loader warnings
  /// What of the page could not be seen as it will print, as reasons ("its spot inks were left out"): no
  /// check that looks at pixels is clear then.
  std::vector<std::string> unseen{};

  const std::uint8_t* at(int x, int y) const {
    return rgb.data() +
           (static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x)) * 3;
  }
};

/// Bounds on what is opened, all in one place; the defaults suit print (an A0 at 600 dpi, 19,866 x 28,087 px,
/// passes).
struct RasterBounds {
  std::int64_t pixels = 700'000'000;        ///< of one page
  int side = 65'500;                        ///< pixels, width or height
  int pages = 2'000;                        ///< of one file
  std::int64_t profile_bytes = 16'000'000;  ///< of a colour profile; those of presses have 0.5 to 9 million
  bool pdf = true;                          ///< whether PDF pages are opened at all
  /// Processor time for one page in seconds: so much for any, and more for each megapixel. The library does
  /// not watch a clock; the program ends the process of a page that takes longer.
  double seconds = 8;
  double seconds_per_megapixel = 1;
};
/// False where frisket was built without PDF (FRISKET_PDF=OFF): then no PDF page is opened, whatever is
/// asked.
bool opens_pdf();

/// How many pages a file holds, from its header. Throws Error (missing, empty, unknown kind, unreadable).
int count_pages(const std::filesystem::path& file, const RasterBounds& bounds = {});

/// What can be known of a file before a page of it is decoded.
struct FileSurvey {
  int pages = 1;
  std::int64_t pixels = 0;  ///< of its largest page, from the header; 0 where only decoding can tell
};
/// Looks at the header of a file. `pdf_dpi` as for open_page(). Throws Error as count_pages() does.
FileSurvey survey_file(const std::filesystem::path& file, std::optional<double> pdf_dpi,
                       const RasterBounds& bounds = {});

/// The SHA-256 (FIPS 180-4) of a file's bytes as 64 hexadecimal digits. Throws Error where it cannot be read.
std::string file_sha256(const std::filesystem::path& file);
/// The same of a text.
std::string text_sha256(std::string_view text);

/// Decodes page `number` (from 1). The kind is told by the file's first bytes, never by its name: TIFF, PNG,
/// JPEG, WebP, PPM or PDF; truncated data are refused. `pdf_dpi` is the resolution PDF pages are rendered
/// at; without it a PDF is an Error that asks for one. Throws Error with the reason and the remedy; the
/// message does not repeat the file name.
Raster open_page(const std::filesystem::path& file, int number, std::optional<double> pdf_dpi,
                 const RasterBounds& bounds = {});

/// Starts the imaging library with everything it calls untrusted blocked except what frisket itself needs.
/// Must live in main() (or the test's main) as long as pages are opened or drawn.
class ImagingLibrary {
 public:
  explicit ImagingLibrary(const char* program);
  ~ImagingLibrary();
  ImagingLibrary(const ImagingLibrary&) = delete;
  /// From now on decoding and drawing use at most `threads` (1 or more) at a time.
  static void use_threads(int threads);
  ImagingLibrary& operator=(const ImagingLibrary&) = delete;
};

}  // namespace frisket
