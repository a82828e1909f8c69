#include "report/page_picture.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <vips/vips8>

#include "opencv.hpp"
#include "report/base64.hpp"

namespace frisket {
namespace {

constexpr int page_quality = 78;  ///< of WebP: small type stays readable
constexpr int cut_quality = 80;
constexpr int effort = 2;  ///< of 0 to 6: more takes three times as long for a tenth of the bytes

std::string webp_uri(const cv::Mat& rgb, int quality) {
  try {
    vips::VImage image =
        vips::VImage::new_from_memory(rgb.data, rgb.total() * 3, rgb.cols, rgb.rows, 3, VIPS_FORMAT_UCHAR)
            .copy(vips::VImage::option()->set("interpretation", VIPS_INTERPRETATION_sRGB));
    VipsBlob* blob = image.webpsave_buffer(
        vips::VImage::option()->set("Q", quality)->set("effort", effort)->set("strip", true));
    const std::unique_ptr<VipsBlob, void (*)(VipsBlob*)> owner(
        blob, [](VipsBlob* held) { vips_area_unref(VIPS_AREA(held)); });
    std::size_t size = 0;
    const auto* bytes = static_cast<const std::uint8_t*>(vips_blob_get(blob, &size));
    return "data:image/webp;base64," + base64({bytes, size});
  } catch (const vips::VError&) {
    const std::string reason = vips_error_buffer();
    vips_error_clear();
    throw Error("the report's picture of the page cannot be made: " + reason);
  }
}

cv::Mat shrunk(const cv::Mat& picture, int longest_px) {
  const int longer = std::max(picture.cols, picture.rows);
  if (longer <= longest_px) return picture.clone();
  const double scale = static_cast<double>(longest_px) / longer;
  const cv::Size size(std::max(1, static_cast<int>(std::lround(picture.cols * scale))),
                      std::max(1, static_cast<int>(std::lround(picture.rows * scale))));
  cv::Mat smaller;
  cv::resize(picture, smaller, size, 0, 0, cv::INTER_AREA);
  return smaller;
}

/// Smaller and smaller until it is small enough; how many bytes a picture takes is known only once it is
/// made.
PagePicture fitted(const cv::Mat& picture, int quality, int longest_px, std::size_t most_bytes) {
  constexpr int least_px = 200;
  for (;; longest_px = longest_px * 4 / 5) {
    const cv::Mat smaller = shrunk(picture, longest_px);
    PagePicture made{webp_uri(smaller, quality), smaller.cols, smaller.rows};
    if (made.uri.size() <= most_bytes || longest_px <= least_px) return made;
    longest_px = std::min(longest_px, std::max(smaller.cols, smaller.rows));
  }
}

}  // namespace

PagePicture page_picture(const Raster& raster, int longest_px, std::size_t most_bytes) {
  return fitted(view_of(raster), page_quality, longest_px, most_bytes);
}

std::optional<PageCut> page_cut(const Raster& raster, const PixelRect& area, int longest_px,
                                std::size_t most_bytes) {
  // What is no number lies nowhere.
  const auto whole = [](double at, double end) { return at > 0 ? static_cast<int>(std::min(at, end)) : 0; };
  const int left = whole(std::floor(area.x), raster.width),
            right = whole(std::ceil(area.right()), raster.width);
  const int top = whole(std::floor(area.y), raster.height);
  const int bottom = whole(std::ceil(area.bottom()), raster.height);
  if (left >= right || top >= bottom) return std::nullopt;
  const cv::Rect there(left, top, right - left, bottom - top);
  return PageCut{fitted(view_of(raster)(there), cut_quality, longest_px, most_bytes),
                 {static_cast<double>(left), static_cast<double>(top), static_cast<double>(there.width),
                  static_cast<double>(there.height)}};
}

}  // namespace frisket
