#include "page/placing/locating.hpp"

#include <cmath>
#include <numbers>

#include "page/placing/marks.hpp"
#include "page/placing/placing.hpp"

namespace frisket {
namespace {

constexpr double straight_px = 0.5;

bool is_jobs_size(double width, double height, double dpi, const Job& job) {
  const double tolerance = placing_tolerance(dpi).pixels(dpi);
  return std::abs(width - job.trim.width.pixels(dpi)) <= tolerance &&
         std::abs(height - job.trim.height.pixels(dpi)) <= tolerance;
}

/// The job's trim with its middle where that of `found` is.
Placement placed_on(const PixelRect& found, Placing how, double dpi, const Job& job) {
  Placement placement;
  placement.how = how;
  placement.px_per_mm = dpi / mm_per_inch;
  const double width = job.trim.width.pixels(dpi), height = job.trim.height.pixels(dpi);
  placement.trim_px = {found.x + (found.width - width) / 2, found.y + (found.height - height) / 2, width,
                       height};
  return placement;
}

bool covers(const PixelRect& box, const Raster& canvas) {
  return box.width >= canvas.width - 1.0 && box.height >= canvas.height - 1.0;
}

/// By the trim box; a crop box stands for it where there is none (its default) and it has the size of the
/// trim, or of trim and bleed.
std::optional<Placement> by_boxes(const Raster& canvas, double dpi, const Job& job) {
  const PageBoxes& boxes = canvas.boxes;
  if (boxes.trim) {
    if (!is_jobs_size(boxes.trim->width, boxes.trim->height, dpi, job) || covers(*boxes.trim, canvas))
      return std::nullopt;
    return placed_on(*boxes.trim, Placing::by_boxes, dpi, job);
  }
  if (!boxes.crop) return std::nullopt;
  const PixelRect& crop = *boxes.crop;
  const double left = job.bleed.left.pixels(dpi), top = job.bleed.top.pixels(dpi),
               right = job.bleed.right.pixels(dpi), bottom = job.bleed.bottom.pixels(dpi);
  const PixelRect inner{crop.x + left, crop.y + top, crop.width - left - right, crop.height - top - bottom};
  for (const PixelRect& trim : {inner, crop})
    if (is_jobs_size(trim.width, trim.height, dpi, job)) return placed_on(trim, Placing::by_boxes, dpi, job);
  return std::nullopt;
}

}  // namespace

bool is_crooked(const Placement& placement) {
  const double half = std::hypot(placement.trim_px.width, placement.trim_px.height) / 2;
  return std::abs(placement.skew) * std::numbers::pi / 180.0 * half > straight_px;
}

Location locate(const Raster& canvas, double dpi, const Job& job) {
  Location found{place(canvas.width, canvas.height, dpi, job), std::nullopt};
  const Placing by_size = found.placement.how;
  const bool is_page = by_size == Placing::by_bleed || by_size == Placing::by_trim;
  if (job.marks.value_or(!is_page)) found.marks = find_marks(view_of(canvas), dpi, job);
  if (const auto boxed = by_boxes(canvas, dpi, job)) {
    found.placement = *boxed;
  } else if (found.marks && is_jobs_size(found.marks->trim_px.width, found.marks->trim_px.height, dpi, job)) {
    found.placement = placed_on(found.marks->trim_px, Placing::by_marks, dpi, job);
    found.placement.skew = found.marks->skew;
    if (!is_crooked(found.placement)) found.placement.skew = 0;
  } else if (found.marks) {
    found.placement = {};
    found.placement.px_per_mm = dpi / mm_per_inch;
  }
  return found;
}

}  // namespace frisket
