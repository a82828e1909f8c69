#include "checks/line_art.hpp"

#include <algorithm>
#include <cmath>

#include "checks/resolution_words.hpp"
#include "page/pictures/one_bit.hpp"
#include "page/pictures/stepped_art.hpp"
#include "page/zones/pixel_boxes.hpp"

namespace frisket {
namespace {

/// How often such grids were no chance, on pages of the tests and of the benchmark.
constexpr double sure = 0.98;

cv::Rect united_box(const Page& page, const std::vector<int>& elements) {
  cv::Rect box;
  for (const int i : elements) box |= whole_pixels(page.elements[static_cast<std::size_t>(i)].box_px);
  return box;
}

/// All that may be one enlarged thing: lines of type, drawings of several parts, and each element with all
/// that it carries. Pictures are measured by other means.
std::vector<cv::Rect> things_on(const Page& page) {
  std::vector<cv::Rect> boxes;
  for (const TextLine& line : page.lines) boxes.push_back(whole_pixels(line.box_px));
  for (const std::vector<int>& drawing : page.drawings) boxes.push_back(united_box(page, drawing));
  for (const Element& element : page.elements)
    if (!element.repeats && !element.on_guide) boxes.push_back(whole_pixels(element.box_px));
  std::erase_if(boxes, [&](const cv::Rect& box) {
    return std::ranges::any_of(page.pictures, [&](const Picture& picture) {
      return 2 * (whole_pixels(picture.box_px) & box).area() > box.area();
    });
  });
  return boxes;
}

std::string steps_text(const SteppedArt& art) {
  return "its edges run in steps of " +
         plain_text(std::round(10.0 * std::max(art.factor_x, art.factor_y)) / 10.0) + " page pixels";
}

ImageResolution measured(const Page& page, const SteppedArt& art) {
  ImageResolution image;
  image.box = page.placement.rect_of(
      {double(art.box.x), double(art.box.y), double(art.box.width), double(art.box.height)});
  image.ppi_x = page.dpi / art.factor_x;
  image.ppi_y = page.dpi / art.factor_y;
  image.why = steps_text(art);
  image.confidence = sure;
  image.drawn = true;
  return image;
}

Finding stair_steps(const ImageResolution& image, const LineArtLimits& limits) {
  const double ppi = std::min(*image.ppi_x, *image.ppi_y);
  const bool is_plain = below_ppi(ppi, limits.least);
  Finding finding = ppi_finding("stair-steps", is_plain ? Severity::fix : Severity::review, image.box);
  finding.measured_ppi = ppi;
  finding.required_ppi = limits.line_art;
  finding.message = "Logo, type or drawing was enlarged from " + ppi_text(image) + " ppi: " + image.why +
                    ", and " + plain_text(limits.line_art) + " ppi are wanted for line art.";
  finding.advice = "Place the vector drawing or live type instead, or an image of at least " +
                   pixels_text(image.box, limits.line_art) + ".";
  return finding;
}

}  // namespace

void judge_stepped_art(const Page& page, const LineArtLimits& limits, Outcome& outcome) {
  for (const SteppedArt& art : find_stepped_art(view_of(*page.raster), things_on(page), page.dpi)) {
    outcome.images.push_back(measured(page, art));
    const ImageResolution& image = outcome.images.back();
    if (below_ppi(std::min(*image.ppi_x, *image.ppi_y), limits.line_art))
      outcome.findings.push_back(stair_steps(image, limits));
  }
}

std::optional<Finding> judge_one_bit_page(const Page& page, const LineArtLimits& limits) {
  const Raster& raster = *page.raster;
  if (!below_ppi(page.dpi, limits.line_art) || !is_one_bit(view_of(raster))) return std::nullopt;
  Finding finding =
      ppi_finding("one-bit-low", below_ppi(page.dpi, limits.least) ? Severity::fix : Severity::review,
                  page.placement.rect_of({0, 0, double(raster.width), double(raster.height)}));
  finding.measured_ppi = page.dpi;
  finding.required_ppi = limits.line_art;
  finding.message = "Page is black and white without any grey, at " + plain_text(page.dpi) +
                    " dpi; line art takes " + plain_text(limits.line_art) +
                    ", or its slants and curves show steps.";
  finding.advice = "Export it again at " + plain_text(limits.line_art) + " dpi, or in greys.";
  return finding;
}

}  // namespace frisket
