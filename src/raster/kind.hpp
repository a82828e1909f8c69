#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "raster/file_bytes.hpp"

namespace frisket {

/// The kinds of file that hold a page.
enum class FileKind { tiff, png, jpeg, webp, ppm, pdf };
/// "TIFF", "PNG", "JPEG", "WebP", "PPM" or "PDF".
std::string kind_name(FileKind kind);

/// Tells the kind by the first bytes. Throws Error that says what the file looks like and what is accepted.
FileKind sniff(const OpenFile& file);

/// A sentence where the extension of `file` promises another kind than `kind`; empty where it does not.
std::optional<std::string> misleading_extension(const std::filesystem::path& file, FileKind kind);

}  // namespace frisket
