#pragma once

#include <vector>

#include "frisket/page.hpp"
#include "page/grounds/grounds.hpp"

namespace frisket {

/// Marks what is strewn over the page and runs off it (confetti, leaves, stars, chips of stone): a ground
/// that bleeds, not live matter, however irregular. Known by small things that go on past the trim, at
/// several places of two edges and more, as no slip does; with them goes whatever has their size and colour.
/// `colours` are by element; letters of `lines` that are surely text stay what they are; of the `grounds`,
/// small ones at the canvas edge are such things too; `trim` is in px. Returns the elements marked, in order;
/// none where nothing is strewn.
std::vector<int> mark_strewn(std::vector<Element>& elements, const std::vector<cv::Vec3f>& colours,
                             const std::vector<TextLine>& lines, const std::vector<Surface>& grounds,
                             const PixelRect& trim);

}  // namespace frisket
