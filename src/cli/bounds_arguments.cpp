#include "cli/bounds_arguments.hpp"

namespace frisket {
namespace {

constexpr const char* what_is_opened = "What is opened";

/// Beyond these nothing is certain: sides are int, and decoders count in 32 bits.
constexpr double most_megapixels = 4'000;
constexpr int most_side = 500'000;

}  // namespace

void add_bounds_options(CLI::App& command, BoundsArguments& arguments) {
  command.add_option("--most-megapixels", arguments.megapixels, "The largest page (default 700)")
      ->check(CLI::Range(0.01, most_megapixels))
      ->type_name("N")
      ->group(what_is_opened);
  command.add_option("--most-side", arguments.side, "The longest side in pixels (default 65500)")
      ->check(CLI::Range(1, most_side))
      ->type_name("PX")
      ->group(what_is_opened);
  command.add_option("--most-pages", arguments.pages, "The most pages of one file (default 2000)")
      ->check(CLI::Range(1, 1'000'000))
      ->type_name("N")
      ->group(what_is_opened);
  command
      .add_option("--most-profile", arguments.profile_megabytes,
                  "The largest colour profile in a file, in MB (default 16)")
      ->check(CLI::Range(0.001, 1'000.0))
      ->type_name("MB")
      ->group(what_is_opened);
  command
      .add_option("--most-seconds", arguments.seconds,
                  "The processor time that a page may take (default 8, and 1 more for each megapixel)")
      ->check(CLI::Range(0.1, 1e6))
      ->type_name("S")
      ->group(what_is_opened);
  command.add_flag("--no-pdf", arguments.no_pdf, "Open no PDF pages")->group(what_is_opened);
}

RasterBounds bounds_of(const BoundsArguments& arguments) {
  RasterBounds bounds;
  bounds.pixels = static_cast<std::int64_t>(arguments.megapixels * 1e6);
  bounds.side = arguments.side;
  bounds.pages = arguments.pages;
  bounds.profile_bytes = static_cast<std::int64_t>(arguments.profile_megabytes * 1e6);
  bounds.pdf = !arguments.no_pdf;
  if (arguments.seconds) {
    bounds.seconds = *arguments.seconds;
    bounds.seconds_per_megapixel = 0;
  }
  return bounds;
}

double seconds_for(std::int64_t pixels, const RasterBounds& bounds) {
  return bounds.seconds + bounds.seconds_per_megapixel * static_cast<double>(pixels) / 1e6;
}

}  // namespace frisket
