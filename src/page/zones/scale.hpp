#pragma once

#include <algorithm>
#include <cmath>

namespace frisket {

/// Lengths of the analysis in pixels of the page at hand.
struct Scale {
  double px_per_mm;
  bool lossy;  ///< colours of flat areas waver, as after JPEG

  double px(double mm) const { return mm * px_per_mm; }
  int whole_px(double mm) const { return std::max(1, static_cast<int>(std::lround(mm * px_per_mm))); }
  double square_px(double mm) const { return px(mm) * px(mm); }
};

}  // namespace frisket
