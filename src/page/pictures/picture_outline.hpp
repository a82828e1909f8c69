#pragma once

#include "opencv.hpp"
#include "page/grounds/smooth_ground.hpp"
#include "page/grounds/step_profile.hpp"

namespace frisket {

/// Finds where a picture ends, from a part of it that is known. A side is moved outwards until the line
/// beyond it is ground: smooth along and across, for nearly all of its length, or flat. So it does not matter
/// how soft the picture is inside, how its outline is formed and what straight lines run through it.
class PictureOutline {
 public:
  /// `grey` is looked at for edges.
  PictureOutline(SmoothGround& ground, const cv::Mat1b& grey) : ground_(ground), grey_(grey) {}

  /// The outline round `core`, canvas pixels; to the pixel where the picture has straight upright edges.
  cv::Rect round(const cv::Rect& core) const;

 private:
  SmoothGround& ground_;
  const cv::Mat1b& grey_;
};

}  // namespace frisket
