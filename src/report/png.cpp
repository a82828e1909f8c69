#include "report/png.hpp"

#include <libdeflate.h>

#include <cstring>
#include <memory>
#include <string_view>

#include "frisket/error.hpp"

namespace frisket {
namespace {

using Bytes = std::vector<std::uint8_t>;

/// Of 1 to 12. A page's overlay takes 5 times as long at zlib's usual level, for a tenth of the bytes.
constexpr int effort = 2;

void put_number(Bytes& bytes, std::uint32_t number) {
  for (const int shift : {24, 16, 8, 0}) bytes.push_back(static_cast<std::uint8_t>(number >> shift));
}

/// Length, type, data, and the sum over type and data (section 5.3).
void put_chunk(Bytes& png, std::string_view type, const std::uint8_t* data, std::size_t size) {
  put_number(png, static_cast<std::uint32_t>(size));
  const std::size_t begin = png.size();
  png.insert(png.end(), type.begin(), type.end());
  png.insert(png.end(), data, data + size);
  put_number(png, libdeflate_crc32(0, png.data() + begin, png.size() - begin));
}

/// Rows as differences from the row above, each after the number of that filter (section 9.2).
Bytes filtered(const cv::Mat& rgb) {
  constexpr std::uint8_t none = 0, up = 2;
  const std::size_t length = 3 * static_cast<std::size_t>(rgb.cols);
  Bytes bytes((length + 1) * static_cast<std::size_t>(rgb.rows));
  std::uint8_t* out = bytes.data();
  for (int y = 0; y < rgb.rows; ++y) {
    const std::uint8_t* row = rgb.ptr(y);
    *out++ = y == 0 ? none : up;
    if (y == 0) {
      std::memcpy(out, row, length);
    } else {
      const std::uint8_t* above = rgb.ptr(y - 1);
      for (std::size_t i = 0; i < length; ++i) out[i] = static_cast<std::uint8_t>(row[i] - above[i]);
    }
    out += length;
  }
  return bytes;
}

Bytes deflated(const Bytes& bytes) {
  const std::unique_ptr<libdeflate_compressor, void (*)(libdeflate_compressor*)> compressor(
      libdeflate_alloc_compressor(effort), libdeflate_free_compressor);
  if (!compressor) throw Error("the overlay cannot be written: not enough memory");
  Bytes packed(libdeflate_zlib_compress_bound(compressor.get(), bytes.size()));
  packed.resize(
      libdeflate_zlib_compress(compressor.get(), bytes.data(), bytes.size(), packed.data(), packed.size()));
  return packed;
}

}  // namespace

Bytes png_of(const cv::Mat& rgb) {
  constexpr std::uint8_t signature[] = {0x89, 'P', 'N', 'G', '\r', '\n', 0x1A, '\n'};
  Bytes header;
  put_number(header, static_cast<std::uint32_t>(rgb.cols));
  put_number(header, static_cast<std::uint32_t>(rgb.rows));
  // 8 bits a sample, colour without palette and alpha; deflate, filters of the one kind, not interlaced
  for (const int byte : {8, 2, 0, 0, 0}) header.push_back(static_cast<std::uint8_t>(byte));
  const Bytes pixels = deflated(filtered(rgb));

  Bytes png(std::begin(signature), std::end(signature));
  put_chunk(png, "IHDR", header.data(), header.size());
  put_chunk(png, "IDAT", pixels.data(), pixels.size());
  put_chunk(png, "IEND", nullptr, 0);
  return png;
}

}  // namespace frisket
