#include "page/placing/placing.hpp"

#include <cmath>

#include "page/placing/size_fits.hpp"

namespace frisket {
namespace {

/// First pixel of a span of `wanted` px on a canvas of `found` px. A renderer rounds the canvas up or down to
/// whole pixels and starts to draw at the left or top, so up to a pixel too many or too few lies at the far
/// end; anything more is shared by both ends.
double start_of(double found, double wanted) {
  const double excess = found - wanted;
  return std::abs(excess) <= 1.0 ? 0.0 : excess / 2.0;
}

}  // namespace

std::string_view placed_by_name(Placing how) {
  switch (how) {
    case Placing::by_bleed:
    case Placing::by_trim:
      return "canvas";
    case Placing::by_boxes:
      return "boxes";
    case Placing::by_marks:
      return "marks";
    case Placing::centred:
      return "centred";
    case Placing::fits_nothing:
      return "";
  }
  return "";
}

Length placing_tolerance(double dpi) {
  return std::max(Length::from_mm(0.5), Length::from_inches(1.0 / dpi));
}

Placement place(int width, int height, double dpi, const Job& job) {
  const Size canvas{Length::from_inches(width / dpi), Length::from_inches(height / dpi)};
  const Size full = full_size(job);
  const Length tolerance = placing_tolerance(dpi);
  const auto matches = [&](const Size& size) {
    return abs(canvas.width - size.width) <= tolerance && abs(canvas.height - size.height) <= tolerance;
  };

  Placement placement;
  placement.px_per_mm = dpi / mm_per_inch;
  if (matches(full)) {
    placement.how = Placing::by_bleed;
  } else if (matches(job.trim)) {
    placement.how = Placing::by_trim;
  } else if (canvas.width >= full.width - tolerance && canvas.height >= full.height - tolerance &&
             (even_margin(canvas, job, dpi) || !other_fitting_dpi(width, height, dpi, job))) {
    placement.how = Placing::centred;
  } else {
    return placement;
  }
  const bool with_bleed = placement.how != Placing::by_trim;
  const Size laid = with_bleed ? full : job.trim;
  placement.trim_px.x =
      start_of(width, laid.width.pixels(dpi)) + (with_bleed ? job.bleed.left.pixels(dpi) : 0.0);
  placement.trim_px.y =
      start_of(height, laid.height.pixels(dpi)) + (with_bleed ? job.bleed.top.pixels(dpi) : 0.0);
  placement.trim_px.width = job.trim.width.pixels(dpi);
  placement.trim_px.height = job.trim.height.pixels(dpi);
  return placement;
}

}  // namespace frisket
