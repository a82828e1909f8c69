#pragma once

#include <CLI/CLI.hpp>
#include <optional>

#include "frisket/raster.hpp"

namespace frisket {

/// What may be opened, as flags say it over the defaults of RasterBounds.
struct BoundsArguments {
  double megapixels = static_cast<double>(RasterBounds{}.pixels) / 1e6;
  int side = RasterBounds{}.side;
  int pages = RasterBounds{}.pages;
  double profile_megabytes = static_cast<double>(RasterBounds{}.profile_bytes) / 1e6;
  std::optional<double> seconds;
  bool no_pdf = false;
};

/// Adds the flags to `command`; `arguments` must outlive the parse.
void add_bounds_options(CLI::App& command, BoundsArguments& arguments);

RasterBounds bounds_of(const BoundsArguments& arguments);

/// The processor time that a page of `pixels` may take.
double seconds_for(std::int64_t pixels, const RasterBounds& bounds);

}  // namespace frisket
