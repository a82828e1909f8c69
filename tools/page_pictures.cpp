// Finds the pictures of a page and tells their resolution: for tools/resolution. One line of JSON: their
// boxes in pixels, how many of them were measured, and what finding and measuring took of the processor.
#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <exception>
#include <stdexcept>
#include <vips/vips8>

#include "opencv.hpp"
#include "page/pictures/picture_resampling.hpp"
#include "page/pictures/pictures.hpp"

namespace {

frisket::Raster load(const char* path) {
  const vips::VImage image = vips::VImage::new_from_file(path).colourspace(VIPS_INTERPRETATION_sRGB);
  std::size_t size = 0;
  void* pixels = image.extract_band(0, vips::VImage::option()->set("n", 3)).write_to_memory(&size);
  frisket::Raster raster;
  raster.width = image.width();
  raster.height = image.height();
  const auto* bytes = static_cast<const std::uint8_t*>(pixels);
  raster.rgb.assign(bytes, bytes + size);
  g_free(pixels);
  return raster;
}

/// Milliseconds of the processor since the program began.
double now() { return 1000.0 * static_cast<double>(std::clock()) / CLOCKS_PER_SEC; }

void answer(const frisket::Raster& raster, double dpi) {
  const double began = now();
  const auto found = frisket::find_pictures(frisket::view_of(raster), dpi);
  const double looked = now();
  const auto resamplings = frisket::resamplings_of(frisket::view_of(raster), found, raster.lossy);
  const double measured = now();
  const auto told = std::ranges::count_if(
      resamplings, [](const frisket::Resampling& each) { return each.factor_x || each.as_fine_as_page; });
  std::printf("{\"found\": [");
  for (std::size_t i = 0; i < found.size(); ++i)
    std::printf("%s[%d, %d, %d, %d]", i ? ", " : "", found[i].box.x, found[i].box.y, found[i].box.br().x,
                found[i].box.br().y);
  std::printf("], \"told\": %td, \"find_ms\": %.1f, \"check_ms\": %.1f}\n", told, looked - began,
              measured - looked);
}

}  // namespace

int main(int count, char** words) try {
  if (count != 3) throw std::runtime_error("usage: page_pictures PAGE DPI");
  if (VIPS_INIT(words[0]) != 0) throw std::runtime_error("libvips did not start");
  cv::setNumThreads(1);
  answer(load(words[1]), std::atof(words[2]));
  return 0;
} catch (const std::exception& error) {
  std::fprintf(stderr, "page_pictures: %s\n", error.what());
  return 1;
}
