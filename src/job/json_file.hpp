#pragma once

#include <filesystem>
#include <nlohmann/json.hpp>

namespace frisket {

/// Reads a JSON object from a file; `//` and `/* */` comments are allowed. Throws Error that names the file,
/// and line and column where it is no JSON, for a file that is missing, unreadable, larger than 1 MB, nested
/// deeper than 64 levels, not an object, or that has a key twice in one object.
nlohmann::json read_json_object(const std::filesystem::path& file);

}  // namespace frisket
