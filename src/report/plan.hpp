#pragma once

#include "frisket/job.hpp"

namespace frisket {

/// Pixels of one canvas: the trim with its bleed all round.
struct PixelSize {
  int width, height;
};

/// The canvas of a job at `dpi` dots per inch, rounded to whole pixels.
PixelSize canvas_pixels(const Job& job, double dpi);

}  // namespace frisket
