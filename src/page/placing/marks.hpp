#pragma once

#include <optional>

#include "frisket/job.hpp"
#include "frisket/page.hpp"
#include "opencv.hpp"

namespace frisket {

/// Looks on a canvas (CV_8UC3) at `dpi` for crop marks: thin strokes outside the trim, in line with its
/// sides, that end short of its corners. Ink of any colour, 0.1 to 0.6 mm thick, solid or dashed, on paper or
/// tint; the page may lie crooked by up to 1.5 degrees. Marks of the bleed beside those of the trim are told
/// from them by the job's size, else by lying farther out. Where no dark marks are found, light ones are
/// looked for, as on a dark slug.
///
/// Found are marks at three corners or more that agree on one rectangle; where it has the size of the job,
/// two corners are enough, of which two neighbours leave the far side to the job, and two opposite ones the
/// skew. Crosses, frames and tables are no marks: their lines go on across the corner, past a line that
/// crosses them, or inside.
///
/// Fold marks are strokes in pairs outside two opposite sides; a pair in the very middle, where the job has
/// no fold, is a pair of centre marks and not listed. (How marks are drawn: common practice, no source.)
std::optional<TrimMarks> find_marks(const cv::Mat& canvas, double dpi, const Job& job);

}  // namespace frisket
