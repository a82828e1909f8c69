#pragma once

#include <vector>

#include "opencv.hpp"

namespace frisket {

/// A grey page as it is, or with x and y exchanged: what is asked of columns can so be asked of rows.
struct GreyView {
  cv::Mat1b page;
  bool turned = false;

  int cols() const { return turned ? page.rows : page.cols; }
  int rows() const { return turned ? page.cols : page.rows; }
  /// The part in `box`, which counts as the view does.
  GreyView part(const cv::Rect& box) const {
    return {page(turned ? cv::Rect(box.y, box.x, box.height, box.width) : box), turned};
  }
};

/// Columns of a view from `begin` up to `end`.
struct Columns {
  int begin, end;
};

/// Sets, for each of `columns`, the step in grey levels that is exceeded along most of the boundary left of
/// it, over the rows from `top` to `bottom`. Most of the boundary, not the mean: a line of type has hard
/// edges in places. Column 0 has no boundary and stays as it is.
void add_to_profile(const GreyView& grey, int top, int bottom, Columns columns, std::vector<double>& profile);

/// The same of all columns; 0 for column 0.
std::vector<double> step_profile(const GreyView& grey, int top, int bottom);

}  // namespace frisket
