#pragma once

#include "page/grounds/grounds.hpp"

namespace frisket {

/// Makes one ground of what lies on the page's lattice: what is, within a pixel, as most of what lies up to
/// two periods round it. Surfaces are taken whole, where most of them recurs, or not at all; pixels of none
/// are taken one by one, so that what a frame, a letter or the canvas edge has cut off a figure is ground and
/// the letter is not. (The median of a texture's tiles as its appearance, and what differs from it as an
/// occlusion: Liu, Collins, Tsin, A computational model for periodic pattern perception, IEEE TPAMI 26(3),
/// 2004.) False where there is no lattice, its colours turn into one another without borders, as those of
/// wood and cloth do, or it is stripes on white: those may be lines.
bool give_lattice_to_ground(const cv::Mat& rgb, const std::optional<Lattice>& lattice, const Scale& scale,
                            SurfaceMap& map);

}  // namespace frisket
