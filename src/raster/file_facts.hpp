#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "frisket/raster.hpp"
#include "raster/file_bytes.hpp"
#include "raster/kind.hpp"

namespace frisket {

// Decoders fill what is missing from a file with grey or black, some of them without a word, and report a
// resolution of their own where the file has none. So the container is walked here before anything is
// decoded: where it ends, how large the picture is, and what it says about its resolution.

/// A resolution as one place in the file states it, dots per inch; not yet judged.
struct StatedResolution {
  std::string where;  ///< "the pHYs chunk"
  double x = 0, y = 0;
};

struct PixelSize {
  std::int64_t width = 0, height = 0;
};

/// What the container of one page says.
struct FileFacts {
  std::optional<PixelSize> size;  ///< before any rotation; empty where only the decoder can tell
  std::vector<StatedResolution> resolutions;
  bool lossy = false;
  int decoder_page = 0;        ///< the page as the decoder counts, from 0
  bool extra_is_alpha = true;  ///< whether a band beyond the colours is transparency
  std::optional<int> white;    ///< the sample value that means white, where it is not the largest of its type
  std::vector<std::string> notes, unseen;  ///< as Raster's
};

/// Each walks a file of its kind to the end of its data. Throws Error where the page is beyond the bounds, or
/// the file is truncated or breaks the rules of its format.
FileFacts png_facts(const FilePart& file, const RasterBounds& bounds);
FileFacts jpeg_facts(const FilePart& file, const RasterBounds& bounds);
FileFacts webp_facts(const FilePart& file, const RasterBounds& bounds);
FileFacts ppm_facts(const FilePart& file, const RasterBounds& bounds);
FileFacts pdf_facts(const FilePart& file, const RasterBounds& bounds);
/// Also throws Error where the file has no page `number` (from 1).
FileFacts tiff_facts(const FilePart& file, int number, const RasterBounds& bounds);
/// How many pages a TIFF has; reduced copies and masks are none.
int count_tiff_pages(const FilePart& file, const RasterBounds& bounds);
/// The pixels of the largest page of a TIFF.
std::int64_t largest_tiff_page(const FilePart& file, const RasterBounds& bounds);
/// The resolution in an Exif block (a TIFF directory of its own), where it has one with a unit.
std::optional<StatedResolution> exif_resolution(const FilePart& block);

/// Throws Error where a page is larger than the bounds allow, or has no size.
void require_within(const PixelSize& size, const RasterBounds& bounds);
/// Throws Error where a file of `count` pages has no page `number` (from 1).
void require_page(int number, int count);

/// The file ends before its data do; `detail` says what is missing.
[[noreturn]] void throw_truncated(FileKind kind, const std::string& detail);
/// The file breaks the rules of its format.
[[noreturn]] void throw_damaged(FileKind kind, const std::string& detail);

}  // namespace frisket
