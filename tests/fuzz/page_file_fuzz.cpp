// Page files of any kind, as frisket opens them: told by the first bytes, walked, decoded.
#include "memory_file.hpp"
#include "target.hpp"

namespace frisket {
namespace {

constexpr double pdf_dpi = 20;
constexpr RasterBounds small{.pixels = 250'000, .side = 2'000, .pages = 20};

void require_whole(const Raster& raster) {
  require(raster.width >= 1 && raster.height >= 1, "a page has a size");
  require(std::int64_t{raster.width} * raster.height <= small.pixels, "no page is larger than allowed");
  require(raster.rgb.size() == std::size_t(raster.width) * std::size_t(raster.height) * 3,
          "every pixel is there");
  require(!raster.file_dpi || (*raster.file_dpi >= 10 && *raster.file_dpi <= 10'000),
          "a believable resolution");
}

void open_all(const std::filesystem::path& file) {
  const FileSurvey survey = survey_file(file, pdf_dpi, small);
  require(survey.pages >= 1 && survey.pages <= small.pages, "no more pages than allowed");
  require(survey.pixels >= 0 && survey.pixels <= small.pixels, "a survey keeps to the bounds");
  for (const int page : {1, survey.pages}) require_whole(open_page(file, page, pdf_dpi, small));
}

}  // namespace
}  // namespace frisket

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  frisket::with_imaging_library();
  const frisket::MemoryFile file({data, size});
  try {
    frisket::open_all(file.path());
  } catch (const frisket::Error& error) {
    frisket::require(error.what()[0] != '\0', "every error has words");
  }
  return 0;
}
