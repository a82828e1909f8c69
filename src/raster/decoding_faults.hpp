#pragma once

#include <string>
#include <vector>

#include "raster/kind.hpp"

namespace frisket {

// What libvips and the decoders under it said about the page decoded last, put so that it helps.

/// Throws the Error for a decoder that gave up.
[[noreturn]] void throw_undecodable(FileKind kind);
/// Throws Error where a decoder went on over a hole and only said so in passing.
void require_no_holes(FileKind kind);
/// A sentence for each of the few warnings that are worth knowing.
std::vector<std::string> warnings_worth_knowing(FileKind kind);

}  // namespace frisket
