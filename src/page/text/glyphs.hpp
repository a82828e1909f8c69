#pragma once

#include <vector>

#include "frisket/page.hpp"
#include "page/grounds/grounds.hpp"

namespace frisket {

/// The colour that an element was printed in: of its pixels that differ most from what is round it, so that
/// thin strokes, all of them anti-aliased, tell it as well as bold ones.
struct Ink {
  cv::Vec3f colour;
  bool known = false;
};
/// May both have been set in one ink? True where either is not known.
bool inks_alike(const Ink& a, const Ink& b);

/// How the strokes of one or several elements run, as a pen would have drawn them.
struct Strokes {
  double width = 0;   ///< px, median
  double spread = 0;  ///< of the widths, 10th to 90th percentile, as a share of the median
  double length = 0;  ///< px, of all strokes together
};

/// What the grouping of type asks about elements beyond their boxes, measured when it is asked for.
class Glyphs {
 public:
  /// From boxes alone: letters are as large as their boxes, of one ink and without strokes.
  explicit Glyphs(const std::vector<Element>& elements) : elements_(elements), outlines_(elements.size()) {}
  /// `map` holds the element of each pixel of `rgb`, or -1; it must outlive this.
  Glyphs(const std::vector<Element>& elements, const cv::Mat& rgb, const LabelMap& map)
      : elements_(elements), rgb_(rgb), map_(&map), inks_(elements.size()), outlines_(elements.size()) {}

  Ink ink(int element);
  /// Measures the inks of many, each of which is there once, on all cores.
  void measure_inks(const std::vector<int>& elements);
  /// Corners of the convex hull of its pixels.
  const std::vector<cv::Point2f>& outline(int element);
  /// Its box in a frame that is turned by `angle` (radians, clockwise as the page is seen): x runs along that
  /// direction.
  PixelRect turned_box(int element, double angle);
  Strokes strokes(const std::vector<int>& elements) const;

 private:
  std::vector<cv::Point2f> ends_of_rows(int element) const;
  cv::Rect whole_box(int element) const;
  Ink measured_ink(int element) const;

  const std::vector<Element>& elements_;
  cv::Mat rgb_;
  const LabelMap* map_ = nullptr;  ///< none where boxes alone are known
  std::vector<std::optional<Ink>> inks_;
  std::vector<std::vector<cv::Point2f>> outlines_;
};

}  // namespace frisket
