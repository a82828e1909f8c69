#pragma once

#include <cstdio>
#include <cstdlib>
#include <string>

#include "drawn.hpp"
#include "frisket/error.hpp"
#include "frisket/raster.hpp"

// What the fuzz targets have in common. A target throws nothing: an Error is an answer, all else a fault.

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace frisket {

/// Ends the program where `holds` is false: that is what a fuzzer notices.
inline void require(bool holds, const std::string& what) {
  if (holds) return;
  std::fprintf(stderr, "does not hold: %s\n", what.c_str());
  std::abort();
}

/// Lives as long as the program, as in main(). One thread: these pages are too small for more.
inline void with_imaging_library() {
  static const ImagingLibrary library("fuzz");
  static const bool one_thread = (ImagingLibrary::use_threads(1), true);
  static_cast<void>(one_thread);
}

}  // namespace frisket
