// Finds the pictures of a page and tells their resolution: for tools/resolution. One line of JSON: their
// boxes in pixels, how many of them were measured, and what finding and measuring took of the processor.
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <exception>
#include <stdexcept>
#include <vips/vips8>

#include "checks/checks.hpp"
#include "opencv.hpp"
#include "page/pictures.hpp"

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

/// A page whose trim is its canvas, with nothing on it but pictures.
frisket::Page page_of(const frisket::Raster& raster, double dpi,
                      const std::vector<frisket::PictureRegion>& found) {
  frisket::Page page;
  page.raster = page.canvas = &raster;
  page.dpi = dpi;
  page.placement = {
      frisket::Placing::by_trim, {0, 0, double(raster.width), double(raster.height)}, dpi / 25.4};
  for (const auto& [box] : found) {
    const frisket::PixelRect px{double(box.x), double(box.y), double(box.width), double(box.height)};
    page.pictures.push_back({px, page.placement.rect_of(px)});
  }
  return page;
}

void answer(const frisket::Raster& raster, double dpi) {
  const double began = now();
  const auto found = frisket::find_pictures(frisket::view_of(raster), dpi);
  const double looked = now();
  frisket::Job job;
  job.limits = frisket::Limits::standard(frisket::resolution_check.limits);
  const auto outcome = frisket::resolution_check.run(page_of(raster, dpi, found), job, job.limits);
  const double measured = now();
  int told = 0;
  for (const auto& image : outcome.images) told += image.ppi_x || image.at_least;
  std::printf("{\"found\": [");
  for (std::size_t i = 0; i < found.size(); ++i)
    std::printf("%s[%d, %d, %d, %d]", i ? ", " : "", found[i].box.x, found[i].box.y, found[i].box.br().x,
                found[i].box.br().y);
  std::printf("], \"told\": %d, \"find_ms\": %.1f, \"check_ms\": %.1f}\n", told, looked - began,
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
