#pragma once

#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include <vips/vips8>

#include "frisket/raster.hpp"
#include "scratch_folder.hpp"

// What the tests of the raster layer make pages from: bytes, and one picture.

namespace frisket {

inline std::filesystem::path written(const std::filesystem::path& file, const std::string& bytes) {
  std::ofstream(file, std::ios::binary).write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  return file;
}

inline std::string content(const std::filesystem::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

/// 61 x 47 px of sRGB, every pixel different from its neighbours and the picture from its mirror images.
inline vips::VImage sample_picture() {
  constexpr int width = 61, height = 47;
  std::vector<std::uint8_t> rgb;
  for (int y = 0; y < height; ++y)
    for (int x = 0; x < width; ++x)
      for (const int value : {x * 4, y * 5, (x * 7 + y * 13) % 256})
        rgb.push_back(static_cast<std::uint8_t>(value));
  const vips::VImage borrowed =
      vips::VImage::new_from_memory(rgb.data(), rgb.size(), width, height, 3, VIPS_FORMAT_UCHAR);
  return borrowed.copy(vips::VImage::option()->set("interpretation", VIPS_INTERPRETATION_sRGB)).copy_memory();
}

inline std::filesystem::path saved(const vips::VImage& image, const std::filesystem::path& file,
                                   const std::string& options = "") {
  image.write_to_file((file.string() + options).c_str());
  return file;
}

/// A flat page of one colour.
inline vips::VImage flat(const std::vector<double>& colour, VipsInterpretation meaning,
                         VipsBandFormat format = VIPS_FORMAT_UCHAR) {
  const vips::VImage black = vips::VImage::black(8, 8).cast(format);
  return black.new_from_image(colour).copy(vips::VImage::option()->set("interpretation", meaning));
}

inline Raster opened(const std::filesystem::path& file) { return open_page(file, 1, std::nullopt); }

inline std::vector<int> pixel(const Raster& raster, int x, int y) {
  const std::uint8_t* p = raster.at(x, y);
  return {p[0], p[1], p[2]};
}

/// The message of the Error that `action` throws; empty where it throws none.
template <typename Action>
std::string error_of(Action action) {
  try {
    action();
  } catch (const Error& error) {
    return error.what();
  }
  return "";
}

/// `value` in four bytes, as most headers want it.
inline std::string big_endian(std::uint32_t value) {
  return {static_cast<char>(value >> 24), static_cast<char>(value >> 16), static_cast<char>(value >> 8),
          static_cast<char>(value)};
}

/// A PNG chunk with its checksum (ISO/IEC 15948, annex D: CRC-32).
inline std::string png_chunk(const std::string& type, const std::string& data) {
  std::uint32_t crc = 0xffffffffU;
  for (const char c : type + data) {
    crc ^= static_cast<std::uint8_t>(c);
    for (int bit = 0; bit < 8; ++bit) crc = (crc >> 1) ^ ((crc & 1U) != 0 ? 0xedb88320U : 0U);
  }
  return big_endian(static_cast<std::uint32_t>(data.size())) + type + data + big_endian(~crc);
}

inline std::string little_endian(std::size_t value) {
  const std::string big = big_endian(static_cast<std::uint32_t>(value));
  return {big.rbegin(), big.rend()};
}

/// The sample picture as a WebP of one lossless picture chunk (RFC 9649, 2.6) and, where given, Exif data.
inline std::string simple_webp(const ScratchFolder& folder, const std::string& exif) {
  const std::string whole = content(saved(sample_picture(), folder / "plain.webp", "[lossless]"));
  const std::size_t chunk = whole.find("VP8L");
  std::size_t length = 0;
  for (std::size_t i = 0; i < 4; ++i)
    length |= std::size_t{static_cast<std::uint8_t>(whole[chunk + 4 + i])} << 8 * i;
  std::string body = "WEBP" + whole.substr(chunk, 8 + length + length % 2);
  if (!exif.empty()) body += "EXIF" + little_endian(exif.size()) + exif;
  return "RIFF" + little_endian(body.size()) + body;
}

inline const std::string png_signature = "\x89PNG\r\n\x1a\n";

/// The chunks of a PNG, whole.
inline std::vector<std::pair<std::string, std::string>> png_chunks(const std::string& png) {
  std::vector<std::pair<std::string, std::string>> chunks;
  for (std::size_t at = png_signature.size(); at + 12 <= png.size();) {
    std::size_t length = 0;
    for (std::size_t i = 0; i < 4; ++i) length = length << 8 | static_cast<std::uint8_t>(png[at + i]);
    chunks.emplace_back(png.substr(at + 4, 4), png.substr(at + 8, length));
    at += length + 12;
  }
  return chunks;
}

/// A planar TIFF, channel after channel, written by hand (TIFF 6.0, PlanarConfiguration 2).
inline std::string planar_tiff() {
  constexpr int width = 3, height = 2;
  std::string tiff = std::string("MM\0*", 4) + big_endian(8);
  constexpr char entries = 10;
  constexpr std::uint32_t extra = 8 + 2 + entries * 12 + 4;  // position of the values too long for an entry
  tiff += std::string{0, entries};
  const auto entry = [&](std::uint32_t tag, char type, std::uint32_t count, const std::string& value) {
    tiff += big_endian(tag).substr(2) + std::string{0, type} + big_endian(count) + value;
  };
  const auto number = [](char value) { return std::string{0, value, 0, 0}; };
  entry(256, 3, 1, number(width));
  entry(257, 3, 1, number(height));
  entry(258, 3, 3, big_endian(extra));
  entry(259, 3, 1, number(1));
  entry(262, 3, 1, number(2));
  entry(273, 4, 3, big_endian(extra + 6));
  entry(277, 3, 1, number(3));
  entry(278, 3, 1, number(height));
  entry(279, 4, 3, big_endian(extra + 18));
  entry(284, 3, 1, number(2));
  tiff += big_endian(0) + std::string("\0\x08\0\x08\0\x08", 6);
  constexpr std::uint32_t pixels = extra + 30;
  for (std::uint32_t plane = 0; plane < 3; ++plane) tiff += big_endian(pixels + plane * 6);
  for (int plane = 0; plane < 3; ++plane) tiff += big_endian(6);
  return tiff + std::string("\x01\x02\x03\x04\x05\x06\x11\x12\x13\x14\x15\x16\x21\x22\x23\x24\x25\x26", 18);
}

/// A two-page PDF of 144 x 72 pt (2 x 1 in) by hand: the left half of page 1 is red, the upper half of page 2
/// blue.
inline const std::string two_page_pdf =
    "%PDF-1.4\n"
    "1 0 obj <</Type/Catalog/Pages 2 0 R>> endobj\n"
    "2 0 obj <</Type/Pages/Count 2/Kids[3 0 R 5 0 R]/MediaBox[0 0 144 72]>> endobj\n"
    "3 0 obj <</Type/Page/Parent 2 0 R/Contents 4 0 R>> endobj\n"
    "4 0 obj <</Length 24>> stream\n1 0 0 rg 0 0 72 72 re f \nendstream endobj\n"
    "5 0 obj <</Type/Page/Parent 2 0 R/Contents 6 0 R>> endobj\n"
    "6 0 obj <</Length 26>> stream\n0 0 1 rg 0 36 144 36 re f \nendstream endobj\n"
    "trailer <</Root 1 0 R/Size 7>>\nstartxref\n0\n%%EOF\n";

}  // namespace frisket
