#include "page/guides/guide_lifting.hpp"

#include <algorithm>

#include "opencv.hpp"

namespace frisket {
namespace {

constexpr int edges_of_a_guide = 2;  // one line alone may be a rule that is meant
constexpr double blur_px = 1.5;      // of a line's edges, and what the canvas is rounded by

/// Where a line was found it is taken away from there.
void move_to_found(JobLine& line, const std::vector<Guide>& guides, const Placement& placement) {
  if (!line.edge && !line.fold) return;
  for (const Guide& guide : guides)
    if (guide.edge == line.edge && guide.fold == line.fold)
      line.at = guide.vertical ? placement.px_of_x(guide.position) : placement.px_of_y(guide.position);
}

/// The band of `reach` px on both sides of a line, along the line as rows. Trim and folds are often drawn on
/// into the bleed.
cv::Rect band_of(const JobLine& line, double reach, int across, int along) {
  const bool right_through = line.edge || line.fold;
  const int first = std::clamp(cvFloor(line.at - reach), 0, across),
            last = std::clamp(cvCeil(line.at + reach), 0, across);
  const int from = right_through ? 0 : std::clamp(cvFloor(line.from - reach), 0, along),
            to = right_through ? along : std::clamp(cvCeil(line.to + reach), from, along);
  return {first, from, last - first, to - from};
}

/// Fills the columns of a band from what lies beside it; at the edge of the canvas there is one side only.
template <class Pixel>
void fill(const cv::Rect& band, int across, const Pixel& pixel) {
  const int before = band.x - 1, after = band.br().x;
  if (band.empty() || (before < 0 && after >= across)) return;
  for (int t = band.y; t < band.br().y; ++t)
    for (int x = band.x; x < after; ++x) {
      const bool nearer_before = 2 * (x - before) <= after - before;
      const int side = before < 0 ? after : after >= across || nearer_before ? before : after;
      pixel(x, t) = cv::Vec3b(pixel(side, t));
    }
}

}  // namespace

std::optional<Raster> lift_guide(const Raster& raster, const Placement& placement,
                                 const std::vector<Guide>& guides, std::vector<JobLine> lines) {
  const auto edges = std::ranges::count_if(guides, [](const Guide& g) { return g.edge.has_value(); });
  if (edges < edges_of_a_guide) return std::nullopt;
  const Length widest = std::ranges::max(guides, {}, &Guide::width).width;
  const double reach = widest.mm() * placement.px_per_mm / 2.0 + blur_px;
  Raster lifted = raster;
  cv::Mat rgb = view_of(lifted);
  for (JobLine& line : lines) {
    move_to_found(line, guides, placement);
    if (line.vertical)
      fill(band_of(line, reach, rgb.cols, rgb.rows), rgb.cols,
           [&](int x, int t) -> cv::Vec3b& { return rgb.at<cv::Vec3b>(t, x); });
    else
      fill(band_of(line, reach, rgb.rows, rgb.cols), rgb.rows,
           [&](int x, int t) -> cv::Vec3b& { return rgb.at<cv::Vec3b>(x, t); });
  }
  return lifted;
}

}  // namespace frisket
