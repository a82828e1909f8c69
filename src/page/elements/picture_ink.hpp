#pragma once

#include <list>

#include "page/grounds/grounds.hpp"

namespace frisket {

/// The zones of one colour and with a sharp border in boxes of a page. They are kept, since a page is looked
/// at again where it has patterns.
class SharpZones {
 public:
  SharpZones(const cv::Mat& rgb, const Scale& scale) : rgb_(rgb), scale_(scale) {}
  struct OfBox {
    cv::Rect box;
    cv::Mat seen;  ///< the page there, in the colours in which its zones are
    ZoneMap zones;
  };
  const OfBox& in(const cv::Rect& box);

 private:
  cv::Mat rgb_;
  Scale scale_;
  std::list<OfBox> looked_at_;
};

/// Ink that stands on a picture: letters, outlines, logos, boxes. Rendered ink has exactly flat colour inside
/// and turns into the picture within two pixels; photographs have either, hardly ever both. So a zone of one
/// exact colour counts where nearly all of its border is sharp, and where it is large enough or one of
/// several of the same colour close together.
///
/// Returns a map of the size of the picture's box, 1 where ink is and 0 elsewhere; `picture` is its surface
/// number.
LabelMap ink_on_picture(const SurfaceMap& map, int picture, const Scale& scale, SharpZones& sharp);

/// Share of the border of `thing` (not 0 where it is), whose top left pixel lies at `origin` of `rgb`, at
/// which the colour turns sharply, beginning `latest_turn` pixels outside of it or before, 0 to 1.
double sharp_border_share(const cv::Mat& rgb, const cv::Mat1b& thing, cv::Point origin, int latest_turn);

}  // namespace frisket
