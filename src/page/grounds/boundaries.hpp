#pragma once

#include <optional>
#include <vector>

#include "frisket/geometry.hpp"
#include "page/grounds/grounds.hpp"

namespace frisket {

/// A strip of the canvas looked at across its length: `at(t, depth)`, t along it from 0 to `length`, depth
/// across it from 0 to `depth`, both whole pixels.
struct Strip {
  cv::Point origin;   ///< pixel (0, 0) of the strip
  cv::Point along;    ///< step of t: (1, 0) or (0, 1)
  cv::Point inwards;  ///< step of depth
  int length = 0;
  int depth = 0;

  cv::Point at(int t, int d) const { return origin + t * along + d * inwards; }
};

/// The strip along a canvas edge, depth from the canvas edge inwards.
Strip strip_along(Edge edge, const cv::Size& canvas, int depth);
/// The strip of half-width `reach` round a vertical line at `position` px (or a horizontal one); depth runs
/// left to right (top to bottom). Cut off at the canvas.
Strip strip_round(double position, bool vertical, const cv::Size& canvas, int reach);

/// A line between two surfaces that runs along a strip.
struct BoundaryRun {
  static constexpr int bare_paper = 0;  ///< as `outer`: unprinted paper at the canvas edge
  int first = 0, last = 0;              ///< t of its ends, half-open
  double position = 0;                  ///< depth of the boundary, median, to a fraction of a pixel
  double least = 0, most = 0;           ///< 5th and 95th percentile of the same: they differ where it tapers
  int outer = bare_paper, inner = 0;    ///< surface numbers, before and behind it as depth grows
  int length() const { return last - first; }
};

/// Follows boundaries along the strip. Where `target` is given the boundary nearest to that depth is taken at
/// each t, else the first, and on bare paper at the canvas edge its end. A run touches no pattern, leaves its
/// direction by one in seven at most, bends by at most about a pixel from one t to the next, may be
/// interrupted for a millimetre, and is at least `least_length` px long.
std::vector<BoundaryRun> follow_boundaries(const cv::Mat& rgb, const SurfaceMap& map, const Strip& strip,
                                           std::optional<double> target, int least_length,
                                           const Scale& scale);

/// Where the canvas edge itself is the boundary: runs of one surface along it that is not paper.
std::vector<BoundaryRun> surfaces_at_canvas_edge(const SurfaceMap& map, const Strip& strip, int least_length,
                                                 const Scale& scale);

}  // namespace frisket
