#include <algorithm>
#include <cmath>
#include <memory>
#include <vector>
#include <vips/vips8>

#include "frisket/report.hpp"
#include "opencv.hpp"
#include "page/cut_out.hpp"
#include "report/overlay_marks.hpp"
#include "report/overlay_strip.hpp"

namespace frisket {
namespace {

constexpr double page_presence = 0.48;  ///< how dark the page's black stays: 0 not at all, 1 black
constexpr int readable_px = 800;        ///< a page whose longer side is shorter is enlarged
constexpr int most_enlarged = 8;
constexpr double margin_white = 255;

/// Overlay pixels per canvas pixel.
double overlay_scale(const Raster& raster, int longest_px) {
  const int longer = std::max(raster.width, raster.height);
  if (longer > longest_px) return static_cast<double>(longest_px) / longer;
  const int enough = std::min(readable_px, longest_px);
  return std::clamp(enough / longer, 1, most_enlarged);
}

/// The page as light grey, one byte a pixel: shrunk by the mean of the pixels, enlarged by repeating them.
cv::Mat dimmed_page(const Raster& raster, const OverlayPage& page) {
  cv::Mat colour, grey;
  const cv::Size size(static_cast<int>(page.width), static_cast<int>(page.height));
  const bool enlarged = size.width > raster.width;
  cv::resize(view_of(raster), colour, size, 0, 0, enlarged ? cv::INTER_NEAREST : cv::INTER_AREA);
  cv::cvtColor(colour, grey, cv::COLOR_RGB2GRAY);
  grey.convertTo(grey, CV_8U, page_presence, 255 * (1 - page_presence));
  return grey;
}

std::string vips_reason() {
  std::string reason = vips_error_buffer();
  vips_error_clear();
  return reason;
}

vips::VImage drawing(const std::string& svg) {
  VipsBlob* blob = vips_blob_copy(svg.data(), svg.size());
  const std::unique_ptr<VipsBlob, void (*)(VipsBlob*)> owner(
      blob, [](VipsBlob* held) { vips_area_unref(VIPS_AREA(held)); });
  return vips::VImage::svgload_buffer(blob);
}

std::vector<std::uint8_t> png_of(const vips::VImage& image) {
  VipsBlob* blob = image.pngsave_buffer(vips::VImage::option()->set("strip", true));
  const std::unique_ptr<VipsBlob, void (*)(VipsBlob*)> owner(
      blob, [](VipsBlob* held) { vips_area_unref(VIPS_AREA(held)); });
  std::size_t size = 0;
  const auto* bytes = static_cast<const std::uint8_t*>(vips_blob_get(blob, &size));
  return {bytes, bytes + size};
}

}  // namespace

std::vector<std::uint8_t> overlay_png(const Raster& raster, const Report& report, int longest_px) {
  const double scale = overlay_scale(raster, longest_px);
  cv::Mat grey = dimmed_page(report.skew == 0 ? raster : straightened(raster, report.trim_px, report.skew),
                             overlay_page(report, scale));
  try {
    const vips::VImage marks = drawing(overlay_svg(report, scale));
    const vips::VImage page =
        vips::VImage::new_from_memory(grey.data, grey.total(), grey.cols, grey.rows, 1, VIPS_FORMAT_UCHAR);
    const int left = (marks.width() - page.width()) / 2;
    const vips::VImage ground = page.embed(left, 0, marks.width(), marks.height(),
                                           vips::VImage::option()
                                               ->set("extend", VIPS_EXTEND_BACKGROUND)
                                               ->set("background", std::vector<double>{margin_white}));
    const vips::VImage rgb =
        vips::VImage::bandjoin(std::vector{ground, ground, ground})
            .copy(vips::VImage::option()->set("interpretation", VIPS_INTERPRETATION_sRGB));
    return png_of(rgb.composite2(marks, VIPS_BLEND_MODE_OVER).flatten().cast(VIPS_FORMAT_UCHAR));
  } catch (const vips::VError&) {
    throw Error("the overlay cannot be drawn: " + vips_reason());
  }
}

}  // namespace frisket
