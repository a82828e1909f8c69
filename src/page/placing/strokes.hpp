#pragma once

#include <vector>

#include "opencv.hpp"

namespace frisket {

/// Sums over points of a line, for fitting: `along` runs down a vertical line and across a horizontal one,
/// `across` is its place. Pixels; the middle of the first pixel is 0.5.
struct LineSums {
  double count = 0, along = 0, across = 0, along_along = 0, along_across = 0, across_across = 0;

  void add(double at, double place);
  void add(const LineSums& other);
  /// The same points, all moved across by so much.
  LineSums shifted(double by) const;
  double mean_along() const { return along / count; }
  double mean_across() const { return across / count; }
  /// Sums about the mean.
  double spread() const { return along_along - along * along / count; }
  double slant() const { return along_across - along * across / count; }
  /// Slope of the least-squares line, and root mean square of what lies beside it, px.
  double slope() const { return spread() > 0 ? slant() / spread() : 0.0; }
  double residual() const;
  /// Place of the line at `at`.
  double place_at(double at) const { return mean_across() + slope() * (at - mean_along()); }
};

/// A thin straight line of ink with paper or tint on both sides of it, nearly upright or nearly level.
struct Stroke {
  LineSums sums;
  double from = 0, to = 0;  ///< its ends along the line, px
  double width = 0;         ///< px

  double length() const { return to - from; }
  double place_at(double at) const { return sums.place_at(at); }
  double middle() const { return (from + to) / 2; }
};

/// What strokes are looked for: all in pixels.
struct StrokeRule {
  int widest;           ///< of a line
  double shortest;      ///< of a stroke, dashes and the gaps between them taken together
  double longest_dash;  ///< pieces longer than this are not joined
  double widest_gap;    ///< between dashes
  double clear;         ///< how far both sides have to be free of other ink
};

/// Strokes of an image (CV_8UC3): the upright ones, or the level ones where `vertical` is false. Three
/// dashes or more in a row count as one stroke. Slanted by at most 1.8 degrees.
///
/// Ink is what a closing across the line takes away (the black top-hat of Meyer, 1979): dark or coloured, on
/// any lighter ground. Renderers paint coverage, so that the centre of its weight is the line's place to a
/// fraction of a pixel.
std::vector<Stroke> find_strokes(const cv::Mat& rgb, bool vertical, const StrokeRule& rule);

}  // namespace frisket
