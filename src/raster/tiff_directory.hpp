#pragma once

#include <map>

#include "raster/file_bytes.hpp"

namespace frisket {

/// TIFF tags that frisket reads (TIFF 6.0, section 8 and on).
enum class TiffTag : std::uint16_t {
  new_subfile_type = 254,
  image_width = 256,
  image_length = 257,
  compression = 259,
  strip_offsets = 273,
  samples_per_pixel = 277,
  rows_per_strip = 278,
  strip_byte_counts = 279,
  x_resolution = 282,
  y_resolution = 283,
  planar_configuration = 284,
  resolution_unit = 296,
  tile_width = 322,
  tile_length = 323,
  tile_offsets = 324,
  tile_byte_counts = 325,
  extra_samples = 338,
};

/// One image file directory (TIFF 6.0, section 2; BigTIFF with its eight-byte offsets): the tags of one page.
/// A tag that is not there or not of a number type gives none.
class TiffDirectory {
 public:
  struct Field {
    std::uint16_t type = 0;
    std::uint64_t count = 0;
    std::uint64_t value_at = 0;  ///< where the values are
  };

  TiffDirectory(const FilePart& file, ByteOrder order, std::map<TiffTag, Field> fields)
      : file_(file), order_(order), fields_(std::move(fields)) {}

  /// True where the values of every tag lie inside the file.
  bool whole() const;
  bool has(TiffTag tag) const { return fields_.contains(tag); }
  /// The values, the first `most` of them. Throws Error where any of them lies beyond the end of the file.
  std::vector<std::uint64_t> numbers(TiffTag tag, std::uint64_t most) const;
  /// The first value.
  std::optional<std::uint64_t> number(TiffTag tag) const;
  /// The first value of a tag of fractions; infinite or NaN where its denominator is 0.
  std::optional<double> fraction(TiffTag tag) const;

 private:
  FilePart file_;
  ByteOrder order_;
  std::map<TiffTag, Field> fields_;
};

/// Every directory of the file, in order. Throws Error where one is cut off, where they go round in a ring
/// or are more than `most`.
std::vector<TiffDirectory> read_tiff_directories(const FilePart& file, int most);
/// The first directory only; an Exif block is read this way. Empty where there is none.
std::optional<TiffDirectory> first_tiff_directory(const FilePart& file);

}  // namespace frisket
