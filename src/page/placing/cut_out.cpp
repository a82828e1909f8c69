#include "page/placing/cut_out.hpp"

#include <cmath>
#include <numbers>

#include "opencv.hpp"

namespace frisket {
namespace {

const cv::Scalar white(255, 255, 255);

/// An empty page of the same kind.
Raster blank_like(const Raster& canvas, int width, int height) {
  Raster raster;
  raster.width = width;
  raster.height = height;
  raster.rgb.resize(static_cast<std::size_t>(width) * static_cast<std::size_t>(height) * 3);
  raster.file_dpi = canvas.file_dpi;
  raster.colour = canvas.colour;
  raster.format = canvas.format;
  raster.lossy = canvas.lossy;
  return raster;
}

/// Fills `target` with what lies from `origin` on, once the canvas is turned by -skew about `middle`.
void turn(const Raster& canvas, cv::Point2d middle, double skew, cv::Point2d origin, Raster& target) {
  const double angle = skew * std::numbers::pi / 180.0, c = std::cos(angle), s = std::sin(angle);
  // From the middle of a target pixel to the canvas; OpenCV counts from the middles of pixels.
  const cv::Point2d from = origin + cv::Point2d(0.5, 0.5) - middle;
  const cv::Matx23d back(c, -s, middle.x - 0.5 + c * from.x - s * from.y,  //
                         s, c, middle.y - 0.5 + s * from.x + c * from.y);
  cv::Mat view = view_of(target);
  cv::warpAffine(view_of(canvas), view, back, view.size(), cv::INTER_LINEAR | cv::WARP_INVERSE_MAP,
                 cv::BORDER_CONSTANT, white);
}

void copy(const Raster& canvas, cv::Point origin, Raster& target) {
  cv::Mat view = view_of(target);
  view.setTo(white);
  const cv::Rect whole(0, 0, canvas.width, canvas.height);
  const cv::Rect there = whole & cv::Rect(origin, view.size());
  if (!there.empty()) view_of(canvas)(there).copyTo(view(there - origin));
}

}  // namespace

CutOut cut_out(const Raster& canvas, const Placement& placement, const Job& job) {
  // Boxes are exact; marks are found to a fraction of a pixel, and turning blurs by one more.
  const double inset = placement.how == Placing::by_boxes ? -0.05 : placement.skew == 0 ? 0.4 : 1.4;
  const PixelRect full =
      placement.pixels_of(grown({Length(), Length(), job.trim.width, job.trim.height}, job.bleed));
  const cv::Point first(static_cast<int>(std::ceil(full.x + inset)),
                        static_cast<int>(std::ceil(full.y + inset)));
  const cv::Point last(static_cast<int>(std::floor(full.right() - inset)),
                       static_cast<int>(std::floor(full.bottom() - inset)));
  CutOut cut{blank_like(canvas, std::max(1, last.x - first.x), std::max(1, last.y - first.y)), placement};
  const PixelRect& trim = placement.trim_px;
  if (placement.skew == 0)
    copy(canvas, first, cut.raster);
  else
    turn(canvas, {trim.x + trim.width / 2, trim.y + trim.height / 2}, placement.skew, first, cut.raster);
  cut.placement.trim_px.x -= first.x;
  cut.placement.trim_px.y -= first.y;
  cut.placement.skew = 0;
  return cut;
}

Raster straightened(const Raster& canvas, const PixelRect& trim, double skew) {
  Raster straight = blank_like(canvas, canvas.width, canvas.height);
  turn(canvas, {trim.x + trim.width / 2, trim.y + trim.height / 2}, skew, {0, 0}, straight);
  return straight;
}

}  // namespace frisket
