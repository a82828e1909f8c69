#include "raster/kind.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <string_view>

#include "frisket/error.hpp"

namespace frisket {
namespace {

using namespace std::string_view_literals;

struct Signature {
  std::size_t at;
  std::string_view bytes;
  FileKind kind;
};
// PNG: ISO/IEC 15948, 5.2. TIFF 6.0, section 2, and 43 for BigTIFF. JPEG: ISO/IEC 10918-1, B.1.1.3, the start
// of image and the next marker. WebP: RFC 9649, 2.4. PDF: ISO 32000-1, 7.5.2.
constexpr std::array signatures{
    Signature{0, "\x89PNG\r\n\x1a\n"sv, FileKind::png},
    Signature{0, "II*\0"sv, FileKind::tiff},
    Signature{0, "MM\0*"sv, FileKind::tiff},
    Signature{0, "II+\0"sv, FileKind::tiff},
    Signature{0, "MM\0+"sv, FileKind::tiff},
    Signature{0, "\xff\xd8\xff"sv, FileKind::jpeg},
    Signature{8, "WEBP"sv, FileKind::webp},
    Signature{0, "%PDF-"sv, FileKind::pdf},
};

/// What else people hand in, so that the message can name it.
struct Stranger {
  std::size_t at;
  std::string_view bytes;
  std::string_view looks_like;
};
constexpr std::array strangers{
    Stranger{0, "%!PS"sv, "PostScript"},
    Stranger{0, "\xc5\xd0\xd3\xc6"sv, "PostScript (EPS)"},
    Stranger{0, "8BPS"sv, "a layered image document (PSD)"},
    Stranger{0, "GIF8"sv, "a GIF"},
    Stranger{0, "BM"sv, "a BMP"},
    Stranger{4, "ftypavif"sv, "an AVIF image"},
    Stranger{4, "ftyphei"sv, "a HEIC image"},
    Stranger{4, "ftypmif1"sv, "a HEIC image"},
    Stranger{4, "JXL "sv, "a JPEG XL image"},
    Stranger{0, "\xff\x0a"sv, "a JPEG XL image"},
    Stranger{4, "jP  "sv, "a JPEG 2000 image"},
    Stranger{0, "PK\3\4"sv, "a ZIP archive or a document packed as one"},
    Stranger{0, "#!"sv, "a script"},
    Stranger{0, "{\\rtf"sv, "a word-processor document"},
};

bool is_netpbm(const Bytes& start) {
  return start.size() > 2 && start[0] == 'P' && start[1] >= '1' && start[1] <= '6' &&
         (std::isspace(start[2]) != 0 || start[2] == '#');
}

bool is_text(const Bytes& start) {
  return std::all_of(start.begin(), start.end(),
                     [](std::uint8_t c) { return c >= 0x80 || c >= ' ' || std::isspace(c) != 0; });
}

std::string looks_like(const Bytes& start) {
  for (const Stranger& stranger : strangers)
    if (holds(start, stranger.at, stranger.bytes)) return std::string(stranger.looks_like);
  if (!is_text(start)) return "data of a kind frisket does not know";
  const std::string text(start.begin(), start.end());
  if (text.find("<svg") != std::string::npos) return "an SVG drawing";
  if (text.find("<html") != std::string::npos || text.find("<!DOCTYPE html") != std::string::npos)
    return "a web page";
  if (text.find("<?xml") != std::string::npos) return "an XML document";
  return "text";
}

struct Extension {
  std::string_view name;
  std::optional<FileKind> kind;  ///< empty: a kind that frisket does not open
};
constexpr std::array extensions{
    Extension{".png", FileKind::png},   Extension{".tif", FileKind::tiff},
    Extension{".tiff", FileKind::tiff}, Extension{".jpg", FileKind::jpeg},
    Extension{".jpeg", FileKind::jpeg}, Extension{".jpe", FileKind::jpeg},
    Extension{".webp", FileKind::webp}, Extension{".ppm", FileKind::ppm},
    Extension{".pgm", FileKind::ppm},   Extension{".pbm", FileKind::ppm},
    Extension{".pnm", FileKind::ppm},   Extension{".pdf", FileKind::pdf},
    Extension{".gif", std::nullopt},    Extension{".bmp", std::nullopt},
    Extension{".psd", std::nullopt},    Extension{".svg", std::nullopt},
    Extension{".eps", std::nullopt},    Extension{".txt", std::nullopt},
    Extension{".heic", std::nullopt},   Extension{".avif", std::nullopt},
};

}  // namespace

std::string kind_name(FileKind kind) {
  switch (kind) {
    case FileKind::tiff:
      return "TIFF";
    case FileKind::png:
      return "PNG";
    case FileKind::jpeg:
      return "JPEG";
    case FileKind::webp:
      return "WebP";
    case FileKind::ppm:
      return "PPM";
    case FileKind::pdf:
      return "PDF";
  }
  return "";
}

FileKind sniff(const OpenFile& file) {
  constexpr std::size_t enough = 1024;  // an SVG or a web page may begin with long comments
  const Bytes start = file.read(0, enough);
  for (const Signature& signature : signatures)
    if (holds(start, signature.at, signature.bytes) && (signature.at == 0 || holds(start, 0, "RIFF")))
      return signature.kind;
  if (is_netpbm(start)) return FileKind::ppm;
  throw Error("this looks like " + looks_like(start) +
              ", not a page; export the page as TIFF, PNG, JPEG, WebP, PPM or PDF");
}

std::optional<std::string> misleading_extension(const std::filesystem::path& file, FileKind kind) {
  std::string extension = file.extension().string();
  for (char& c : extension) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  for (const Extension& known : extensions)
    if (known.name == extension && known.kind != kind)
      return "the name ends in " + extension + ", but the file is a " + kind_name(kind) +
             "; it was read as that";
  return std::nullopt;
}

}  // namespace frisket
