// Tells the enlargement of pictures on a page: for tools/resolution. Boxes "x y width height" in pixels are
// read from standard input, one a line; each is answered by a line of JSON: what frisket tells, or, asked for
// --evidence, the guesses with what each axis shows of them.
#include <cstdio>
#include <ctime>
#include <exception>
#include <iostream>
#include <vips/vips8>

#include "page/pictures/jpeg_grid.hpp"
#include "page/resampling/look.hpp"
#include "page/resampling/resampling.hpp"
#include "page/resampling/weights.hpp"

namespace {

cv::Mat load(const char* path) {
  const vips::VImage image = vips::VImage::new_from_file(path).colourspace(VIPS_INTERPRETATION_sRGB);
  std::size_t size = 0;
  void* pixels = image.extract_band(0, vips::VImage::option()->set("n", 3)).write_to_memory(&size);
  cv::Mat page = cv::Mat(image.height(), image.width(), CV_8UC3, pixels).clone();
  g_free(pixels);
  return page;
}

void answer(const cv::Mat& page, const cv::Rect& box, bool was_jpeg) {
  const std::clock_t began = std::clock();
  const frisket::Resampling told = frisket::estimate_resampling(page(box), {was_jpeg});
  const double took =
      1000.0 * static_cast<double>(std::clock() - began) / CLOCKS_PER_SEC;  // of the processor
  if (told.factor_x && told.factor_y)
    std::printf("{\"factors\": [%.5f, %.5f], ", *told.factor_x, *told.factor_y);
  else
    std::printf("{\"factors\": null, ");
  std::printf("\"fine\": %s, \"confidence\": %.3f, \"ms\": %.2f, \"was_jpeg\": %s, \"why\": \"%s\"}\n",
              told.as_fine_as_page ? "true" : "false", told.confidence, took, was_jpeg ? "true" : "false",
              told.why.c_str());
}

void print_evidence(const std::array<double, frisket::evidence_count>& evidence) {
  for (std::size_t i = 0; i < evidence.size(); ++i) std::printf("%s%.5g", i ? ", " : "[", evidence[i]);
  std::printf("]");
}

void show_evidence(const cv::Mat& page, const cv::Rect& box) {
  const frisket::PictureLook look = frisket::look_at_picture(page(box));
  const bool repeated = look.x.repeated || look.y.repeated;
  const auto guesses = repeated ? std::vector<frisket::Guess>{} : frisket::guesses_of(look.x, look.y);
  std::printf("{\"repeated\": %s, \"guesses\": [", repeated ? "true" : "false");
  for (std::size_t i = 0; i < guesses.size(); ++i) {
    std::printf("%s[%.5f, ", i ? ", " : "", guesses[i].factor);
    print_evidence(frisket::evidence_for(guesses, i, &frisket::Guess::x));
    std::printf(", ");
    print_evidence(frisket::evidence_for(guesses, i, &frisket::Guess::y));
    std::printf("]");
  }
  std::printf("]}\n");
}

}  // namespace

int main(int count, char** words) try {
  const bool asks_evidence = count == 3 && std::string_view(words[2]) == "--evidence";
  if (count != 2 && !asks_evidence)
    throw std::runtime_error("usage: picture_resolution PAGE [--evidence] < BOXES");
  if (VIPS_INIT(words[0]) != 0) throw std::runtime_error("libvips did not start");
  cv::setNumThreads(1);
  const cv::Mat page = load(words[1]);
  const bool was_jpeg = frisket::was_jpeg(page);
  for (cv::Rect box; std::cin >> box.x >> box.y >> box.width >> box.height;) {
    if (box.empty() || (box & cv::Rect(cv::Point(), page.size())) != box)
      throw std::runtime_error("a box is empty or not on the page");
    if (asks_evidence)
      show_evidence(page, box);
    else
      answer(page, box, was_jpeg);
  }
  return 0;
} catch (const std::exception& error) {
  std::fprintf(stderr, "picture_resolution: %s\n", error.what());
  return 1;
}
