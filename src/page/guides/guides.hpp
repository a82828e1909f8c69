#pragma once

#include <vector>

#include "frisket/page.hpp"
#include "page/grounds/grounds.hpp"
#include "page/grounds/lattice.hpp"
#include "page/guides/job_lines.hpp"

namespace frisket {

/// Looks along those of the job's lines that are trim edges or folds for thin lines left in as guides: up to
/// 2 pt thick, solid, dashed or dotted, within half a millimetre of their place, along at least nine tenths
/// of the way.
///
/// A pixel belongs to a line where it differs from both sides a line's width away, in the same sense, and
/// both sides are alike; a line is a column with such pixels in nearly every section of 10 mm. On a page
/// without bleed a line on the trim has no outer side and is not found. Lines that have others like them
/// beside them, where the job has none, are stripes or a grid; one of a colour of the page's lattice is a row
/// of its figures, cut off.
std::vector<Guide> find_guides(const cv::Mat& rgb, const Placement& placement,
                               const std::vector<JobLine>& lines, const Scale& scale,
                               const std::optional<Lattice>& lattice);

/// Does the box lie on the guide, no thicker than one?
bool lies_on(const Rect& box, const Guide& guide);

}  // namespace frisket
