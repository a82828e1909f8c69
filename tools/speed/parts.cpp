// The parts of an inspection by themselves, on pages that tools/speed/run has made: each has its ticket
// beside it. usage: speed_parts [Google Benchmark's options] PAGE…      (built on demand: tools/build
// speed_parts)
#include <benchmark/benchmark.h>

#include <algorithm>
#include <filesystem>
#include <iostream>
#include <memory>
#include <string>

#include "frisket/inspect.hpp"
#include "frisket/report.hpp"
#include "opencv.hpp"
#include "page/elements/elements.hpp"
#include "page/pictures/pictures.hpp"
#include "page/resampling/resampling.hpp"
#include "page/text/glyphs.hpp"
#include "page/text/text_lines.hpp"

namespace frisket {
namespace {

ElementTree elements_of(const cv::Mat& rgb, const SurfaceMap& surfaces, const Scale& scale) {
  SharpZones sharp(rgb, scale);
  return find_elements(rgb, surfaces, scale, sharp);
}

/// A page held open while its parts are measured, with what each part is given by those before it.
struct OpenPage {
  explicit OpenPage(const std::string& name)
      : file(name),
        job(read_job(name + ".ticket.json", {}, all_limits())),
        raster(open_page(file, 1, job.dpi)),
        rgb(view_of(raster)),
        dpi(job.dpi.value()),
        scale{dpi / 25.4, raster.lossy},
        surfaces(find_surfaces(rgb, scale)),
        tree(elements_of(rgb, surfaces, scale)),
        pictures(find_pictures(rgb, dpi)),
        report(inspect(raster, job, {name, 1, std::nullopt, std::nullopt})) {}

  std::filesystem::path file;
  Job job;
  Raster raster;
  cv::Mat rgb;
  double dpi;
  Scale scale;
  SurfaceMap surfaces;
  ElementTree tree;
  std::vector<PictureRegion> pictures;
  Report report;
};

/// Text is found in elements that nobody has looked at yet.
std::size_t text_lines(const OpenPage& page) {
  std::vector<Element> elements = page.tree.elements;
  Glyphs glyphs(elements, page.rgb, page.tree.map);
  return find_text(elements, glyphs, page.scale).lines.size();
}

cv::Mat largest_picture(const OpenPage& page) {
  const auto area = [](const PictureRegion& picture) { return picture.box.area(); };
  return page.rgb(std::ranges::max_element(page.pictures, {}, area)->box);
}

/// Megapixels a second, so that pages of all sizes can be held against each other.
template <class Part>
void measure(const std::string& part_name, const std::shared_ptr<const OpenPage>& page, Part part) {
  const double megapixels = 1e-6 * page->raster.width * page->raster.height;
  const auto run = [page, part, megapixels](benchmark::State& state) {
    for ([[maybe_unused]] const auto turn : state) benchmark::DoNotOptimize(part(*page));
    state.counters["MP/s"] = benchmark::Counter(megapixels, benchmark::Counter::kIsIterationInvariantRate);
  };
  benchmark::RegisterBenchmark((part_name + "/" + page->file.filename().string()).c_str(), run)
      ->Unit(benchmark::kMillisecond)
      ->UseRealTime();
}

void measure_parts(const std::shared_ptr<const OpenPage>& page) {
  measure("open_page", page, [](const OpenPage& p) { return open_page(p.file, 1, p.job.dpi).rgb.size(); });
  measure("file_sha256", page, [](const OpenPage& p) { return file_sha256(p.file).size(); });
  measure("label_zones", page, [](const OpenPage& p) { return label_zones(p.rgb, {}).zones.size(); });
  measure("find_surfaces", page,
          [](const OpenPage& p) { return find_surfaces(p.rgb, p.scale).surfaces.size(); });
  measure("find_elements", page,
          [](const OpenPage& p) { return elements_of(p.rgb, p.surfaces, p.scale).elements.size(); });
  measure("find_text", page, text_lines);
  measure("find_pictures", page, [](const OpenPage& p) { return find_pictures(p.rgb, p.dpi).size(); });
  if (!page->pictures.empty())
    measure("estimate_resampling", page,
            [](const OpenPage& p) { return estimate_resampling(largest_picture(p)).work; });
  measure("overlay_png", page, [](const OpenPage& p) { return overlay_png(p.raster, p.report).size(); });
  measure("report_json", page, [](const OpenPage& p) { return report_json(p.report).size(); });
}

}  // namespace
}  // namespace frisket

int main(int count, char** words) try {
  const frisket::ImagingLibrary imaging(words[0]);
  benchmark::Initialize(&count, words);
  if (count < 2) throw frisket::Error("usage: speed_parts [--benchmark_filter=REGEX] PAGE...");
  for (int i = 1; i < count; ++i) frisket::measure_parts(std::make_shared<const frisket::OpenPage>(words[i]));
  benchmark::RunSpecifiedBenchmarks();
  benchmark::Shutdown();
  return 0;
} catch (const std::exception& error) {
  std::cerr << "speed_parts: " << error.what() << "\n";
  return 1;
}
