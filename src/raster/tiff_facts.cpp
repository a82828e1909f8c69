// TIFF 6.0, sections 3 (strips), 8 (baseline tags), 15 (tiles), 18 (extra samples).
#include <algorithm>

#include "frisket/error.hpp"
#include "frisket/units.hpp"
#include "raster/file_facts.hpp"
#include "raster/tiff_directory.hpp"

namespace frisket {
namespace {

/// Reduced copies (bit 0) and transparency masks (bit 2) are in the chain of pages, but are none.
bool is_page(const TiffDirectory& directory) {
  return (directory.number(TiffTag::new_subfile_type).value_or(0) & 0b101) == 0;
}

/// The positions in the file's chain of those directories that are pages; all where none calls itself one.
std::vector<int> page_positions(const std::vector<TiffDirectory>& directories) {
  std::vector<int> pages, all;
  for (int i = 0; i < static_cast<int>(directories.size()); ++i) {
    all.push_back(i);
    if (is_page(directories[static_cast<std::size_t>(i)])) pages.push_back(i);
  }
  return pages.empty() ? all : pages;
}

std::uint64_t parts_along(std::uint64_t length, std::uint64_t part) {
  return part == 0 ? 0 : length / part + (length % part != 0 ? 1 : 0);
}

/// How many strips or tiles the page must have.
std::uint64_t wanted_parts(const TiffDirectory& page, const PixelSize& size) {
  constexpr std::uint64_t separate_planes = 2;
  const auto width = static_cast<std::uint64_t>(size.width);
  const auto height = static_cast<std::uint64_t>(size.height);
  constexpr std::uint64_t most_samples = 65'535;  // the tag is a SHORT
  const std::uint64_t planes =
      page.number(TiffTag::planar_configuration).value_or(1) == separate_planes
          ? std::min(most_samples, page.number(TiffTag::samples_per_pixel).value_or(1))
          : 1;
  if (page.has(TiffTag::tile_offsets))
    return planes * parts_along(width, page.number(TiffTag::tile_width).value_or(0)) *
           parts_along(height, page.number(TiffTag::tile_length).value_or(0));
  return planes *
         parts_along(height, std::min(height, page.number(TiffTag::rows_per_strip).value_or(height)));
}

/// Every strip or tile must be there and lie inside the file: some decoders fill a missing one in silence.
void require_all_parts(const FilePart& file, const TiffDirectory& page, const PixelSize& size) {
  const bool tiled = page.has(TiffTag::tile_offsets);
  const std::string name = tiled ? "tile " : "strip ";
  const std::uint64_t wanted = wanted_parts(page, size);
  const auto offsets = page.numbers(tiled ? TiffTag::tile_offsets : TiffTag::strip_offsets, wanted);
  const auto counts = page.numbers(tiled ? TiffTag::tile_byte_counts : TiffTag::strip_byte_counts, wanted);
  if (wanted == 0 || std::min(offsets.size(), counts.size()) < wanted)
    throw_damaged(FileKind::tiff, "its table of " + name + "positions is too short");
  for (std::size_t i = 0; i < wanted; ++i) {
    const std::string which = name + std::to_string(i + 1) + " of " + std::to_string(wanted);
    if (offsets[i] == 0 || counts[i] == 0) throw_truncated(FileKind::tiff, which + " was never written");
    if (!file.holds(offsets[i], counts[i]))
      throw_truncated(FileKind::tiff, which + " lies beyond the end of the file");
  }
}

/// A decoder takes memory for a whole tile, however small the page.
void require_sensible_tiles(const TiffDirectory& page, const PixelSize& size) {
  constexpr double usual_pixels = 4096.0 * 4096.0;
  const double tile = static_cast<double>(page.number(TiffTag::tile_width).value_or(0)) *
                      static_cast<double>(page.number(TiffTag::tile_length).value_or(0));
  const double whole = static_cast<double>(size.width) * static_cast<double>(size.height);
  if (tile > std::max(usual_pixels, 4 * whole))
    throw_damaged(FileKind::tiff, "its tiles are far larger than the page");
}

bool is_lossy(const TiffDirectory& page) {
  // 6 and 7: JPEG (TIFF 6.0, section 22, and its technical note 2); the others as registered with libtiff:
  // 34712 JPEG 2000, 34892 lossy JPEG, 50001 WebP.
  const std::uint64_t compression = page.number(TiffTag::compression).value_or(1);
  return compression == 6 || compression == 7 || compression == 34712 || compression == 34892 ||
         compression == 50001;
}

/// 1 and 2 are transparency; 0 is anything: a spot ink, a saved selection.
bool extra_is_alpha(const TiffDirectory& page) {
  const auto kinds = page.numbers(TiffTag::extra_samples, 1);
  return !kinds.empty() && (kinds.front() == 1 || kinds.front() == 2);
}

/// X and Y resolution; a unit must be stated, though TIFF 6.0 would take inches without one: files that leave
/// it out mean the shape of the pixels as often.
std::optional<StatedResolution> resolution_of(const TiffDirectory& page, const std::string& where) {
  const auto x = page.fraction(TiffTag::x_resolution);
  const auto y = page.fraction(TiffTag::y_resolution);
  const auto unit = page.number(TiffTag::resolution_unit);
  if (!x || !y || (unit != 2U && unit != 3U)) return std::nullopt;
  const double per_inch = unit == 2U ? 1.0 : mm_per_inch / 10.0;
  return StatedResolution{where, *x * per_inch, *y * per_inch};
}

}  // namespace

int count_tiff_pages(const FilePart& file, const RasterBounds& bounds) {
  return static_cast<int>(page_positions(read_tiff_directories(file, bounds.pages)).size());
}

std::int64_t largest_tiff_page(const FilePart& file, const RasterBounds& bounds) {
  std::uint64_t largest = 0;
  for (const TiffDirectory& page : read_tiff_directories(file, bounds.pages))
    largest = std::max(largest, page.number(TiffTag::image_width).value_or(0) *
                                    page.number(TiffTag::image_length).value_or(0));
  return static_cast<std::int64_t>(std::min(largest, static_cast<std::uint64_t>(bounds.pixels)));
}

FileFacts tiff_facts(const FilePart& file, int number, const RasterBounds& bounds) {
  const std::vector<TiffDirectory> directories = read_tiff_directories(file, bounds.pages);
  const std::vector<int> pages = page_positions(directories);
  require_page(number, static_cast<int>(pages.size()));
  FileFacts facts;
  facts.decoder_page = pages[static_cast<std::size_t>(number - 1)];
  const TiffDirectory& page = directories[static_cast<std::size_t>(facts.decoder_page)];
  if (!page.whole()) throw_truncated(FileKind::tiff, "a tag lies beyond the end of the file");
  const std::uint64_t width = page.number(TiffTag::image_width).value_or(0);
  const std::uint64_t height = page.number(TiffTag::image_length).value_or(0);
  facts.size = PixelSize{static_cast<std::int64_t>(width), static_cast<std::int64_t>(height)};
  require_within(*facts.size, bounds);
  require_sensible_tiles(page, *facts.size);
  require_all_parts(file, page, *facts.size);
  facts.lossy = is_lossy(page);
  facts.extra_is_alpha = extra_is_alpha(page);
  if (const auto stated = resolution_of(page, "the TIFF tags")) facts.resolutions.push_back(*stated);
  return facts;
}

std::optional<StatedResolution> exif_resolution(const FilePart& block) {
  const std::optional<TiffDirectory> directory = first_tiff_directory(block);
  return directory ? resolution_of(*directory, "the Exif data") : std::nullopt;
}

}  // namespace frisket
