#include <algorithm>
#include <cmath>
#include <future>
#include <memory>
#include <optional>
#include <vector>
#include <vips/vips8>

#include "frisket/report.hpp"
#include "opencv.hpp"
#include "page/placing/cut_out.hpp"
#include "page/zones/on_all_cores.hpp"
#include "report/overlay_marks.hpp"
#include "report/overlay_strip.hpp"

namespace frisket {
namespace {

constexpr double page_presence = 0.48;  ///< how dark the page's black stays: 0 not at all, 1 black
constexpr int readable_px = 800;        ///< a page whose longer side is shorter is enlarged
constexpr int most_enlarged = 8;
constexpr std::uint8_t margin_white = 255;

/// Overlay pixels per canvas pixel.
double overlay_scale(const Raster& raster, int longest_px) {
  const int longer = std::max(raster.width, raster.height);
  if (longer > longest_px) return static_cast<double>(longest_px) / longer;
  const int enough = std::min(readable_px, longest_px);
  return std::clamp(enough / longer, 1, most_enlarged);
}

/// The page as grey, one byte a pixel, shrunk to a half as often as `times` says, by the mean of the pixels;
/// a last odd row or column may go. Made in pieces that stay in a core's cache.
cv::Mat shrunk_grey(const cv::Mat& rgb, int times) {
  constexpr int rows_at_once = 64;
  cv::Mat shrunk(rgb.rows >> times, rgb.cols >> times, CV_8U);
  const int rows = std::max(1, rows_at_once >> times);
  on_all_cores((shrunk.rows + rows - 1) / rows, [&](int piece) {
    cv::Mat result = shrunk.rowRange(piece * rows, std::min(shrunk.rows, (piece + 1) * rows));
    const int top = (piece * rows) << times;
    cv::Mat grey, half;
    cv::cvtColor(rgb.rowRange(top, top + (result.rows << times)), grey, cv::COLOR_RGB2GRAY);
    for (int i = 0; i < times; ++i) {
      const cv::Size size(grey.cols / 2, grey.rows / 2);
      cv::resize(grey.colRange(0, 2 * size.width), half, size, 0, 0, cv::INTER_AREA);
      cv::swap(half, grey);
    }
    grey.copyTo(result);
  });
  return shrunk;
}

/// The page as light grey, one byte a pixel: shrunk by the mean of the pixels, enlarged by repeating them.
cv::Mat dimmed_page(const Raster& raster, const OverlayPage& page) {
  const cv::Size size(static_cast<int>(page.width), static_cast<int>(page.height));
  int halvings = 0;  // exact halves are quick to make
  while (raster.width >> (halvings + 1) >= size.width && raster.height >> (halvings + 1) >= size.height)
    ++halvings;
  const cv::Mat grey = shrunk_grey(view_of(raster), halvings);
  cv::Mat sized;
  cv::resize(grey, sized, size, 0, 0, size.width > raster.width ? cv::INTER_NEAREST : cv::INTER_AREA);
  sized.convertTo(sized, CV_8U, page_presence, 255 * (1 - page_presence));
  return sized;
}

std::string vips_reason() {
  std::string reason = vips_error_buffer();
  vips_error_clear();
  while (reason.ends_with('\n')) reason.pop_back();
  return reason;
}

vips::VImage drawing(const std::string& svg) {
  VipsBlob* blob = vips_blob_copy(svg.data(), svg.size());
  const std::unique_ptr<VipsBlob, void (*)(VipsBlob*)> owner(
      blob, [](VipsBlob* held) { vips_area_unref(VIPS_AREA(held)); });
  return vips::VImage::svgload_buffer(blob);
}

/// Compressed little: at the usual level that took longer than all else about an overlay, for a tenth of the
/// bytes.
std::vector<std::uint8_t> png_of(const cv::Mat& rgb) {
  constexpr int compression = 1;
  VipsBlob* blob = vips::VImage::new_from_memory(rgb.data, rgb.total() * rgb.elemSize(), rgb.cols, rgb.rows,
                                                 3, VIPS_FORMAT_UCHAR)
                       .pngsave_buffer(vips::VImage::option()
                                           ->set("compression", compression)
                                           ->set("filter", VIPS_FOREIGN_PNG_FILTER_UP)
                                           ->set("strip", true));
  const std::unique_ptr<VipsBlob, void (*)(VipsBlob*)> owner(
      blob, [](VipsBlob* held) { vips_area_unref(VIPS_AREA(held)); });
  std::size_t size = 0;
  const auto* bytes = static_cast<const std::uint8_t*>(vips_blob_get(blob, &size));
  return {bytes, bytes + size};
}

/// R G B and alpha of the marks, as librsvg draws them.
cv::Mat drawn_marks(const std::string& svg) {
  vips_error_clear();
  const vips::VImage image = drawing(svg);
  cv::Mat marks(image.height(), image.width(), CV_8UC4);
  image.write(vips::VImage::new_from_memory(marks.data, marks.total() * marks.elemSize(), marks.cols,
                                            marks.rows, 4, VIPS_FORMAT_UCHAR));
  // libvips' row cache paints over what could not be drawn, for want of memory say, and only notes it.
  if (*vips_error_buffer() != '\0') throw vips::VError();
  return marks;
}

/// Alpha compositing of straight colours: marks over grey.
void lay_over(const cv::Vec4b* marks, const std::uint8_t* ground, cv::Vec3b* result, int count) {
  for (int x = 0; x < count; ++x) {
    const int alpha = marks[x][3], rest = 255 - alpha;
    if (alpha == 0) {  // nearly everywhere
      result[x] = cv::Vec3b::all(ground[x]);
      continue;
    }
    for (int channel = 0; channel < 3; ++channel)
      result[x][channel] =
          static_cast<std::uint8_t>((alpha * marks[x][channel] + rest * ground[x] + 127) / 255);
  }
}

/// The marks over the page, which lies in the middle at the top, on white.
cv::Mat composed(const cv::Mat& grey, const cv::Mat& marks) {
  cv::Mat rgb(marks.size(), CV_8UC3);
  const int left = (marks.cols - grey.cols) / 2, width = std::min(grey.cols, marks.cols - left);
  std::vector<std::uint8_t> ground(static_cast<std::size_t>(marks.cols));
  for (int y = 0; y < marks.rows; ++y) {
    std::ranges::fill(ground, margin_white);
    if (y < grey.rows) std::copy_n(grey.ptr(y), width, ground.begin() + left);
    lay_over(marks.ptr<cv::Vec4b>(y), ground.data(), rgb.ptr<cv::Vec3b>(y), marks.cols);
  }
  return rgb;
}

}  // namespace

std::vector<std::uint8_t> overlay_png(const Raster& raster, const Report& report, int longest_px) {
  const double scale = overlay_scale(raster, longest_px);
  const std::string svg = overlay_svg(report, scale);
  const std::launch when = cv::getNumThreads() > 1 ? std::launch::async : std::launch::deferred;
  std::future<cv::Mat> marks = std::async(when, [&] { return drawn_marks(svg); });
  std::optional<Raster> straight;
  if (report.skew != 0) straight = straightened(raster, report.trim_px, report.skew);
  const cv::Mat grey = dimmed_page(straight ? *straight : raster, overlay_page(report, scale));
  try {
    return png_of(composed(grey, marks.get()));
  } catch (const vips::VError&) {
    throw Error("the overlay cannot be drawn: " + vips_reason());
  }
}

}  // namespace frisket
