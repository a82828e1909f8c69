#pragma once

#include "frisket/head_start.hpp"
#include "page/grounds/grounds.hpp"
#include "page/pictures/texture.hpp"

namespace frisket {

/// What the analysis does first, row by row: it can be begun before the page's last rows are there.
struct FirstLook {
  FirstLook(const cv::Mat& page, bool lossy, double page_dpi);

  cv::Mat rgb;
  double dpi;
  ZoneBands zones;        ///< for find_surfaces()
  TextureMapper texture;  ///< for find_pictures()
};

/// The look that `head_start` has begun, where it is one at this page; else a new one. `head_start` may be
/// null.
FirstLook first_look(const cv::Mat& rgb, bool lossy, double dpi, HeadStart* head_start);

}  // namespace frisket
