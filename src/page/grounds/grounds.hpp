#pragma once

#include <vector>

#include "page/grounds/lattice.hpp"
#include "page/zones/scale.hpp"
#include "page/zones/zones.hpp"

namespace frisket {

/// Something that other things can stand on: paper, a flat or smoothly coloured field, a picture.
struct Surface {
  enum class Kind { field, picture } kind = Kind::field;
  std::int64_t area = 0;   ///< pixels
  cv::Rect box;            ///< pixels
  cv::Vec3f colour;        ///< mean
  int canvas_contact = 0;  ///< pixels on the canvas edge
  bool bleeds = false;     ///< lies along the canvas edge for at least a millimetre
  bool repeats = false;    ///< a stripe or tile of a pattern (page/elements/patterns.hpp)
};

/// Surface of every pixel, numbered from 1; 0 for what is too small to stand on: letters, lines, icons.
/// Anti-aliased seams between two fields belong to the nearer one in colour.
struct SurfaceMap {
  LabelMap label;
  std::vector<Surface> surfaces;  ///< [label - 1]
  const Surface& of(int surface) const { return surfaces[static_cast<std::size_t>(surface - 1)]; }
};

/// From here on in all channels, 0 to 255, a colour is the white of unprinted paper.
constexpr int paper_white = 252;

/// Unprinted paper: white on all channels but for rounding.
bool is_paper(const Surface& surface);

/// Makes `part` one with `whole`, of the colour that this has, and leaves nothing of it. Labels are left to
/// the caller.
inline void take_in(Surface& whole, Surface& part) {
  whole.area += part.area;
  whole.box |= part.box;
  whole.canvas_contact += part.canvas_contact;
  whole.bleeds |= part.bleeds;
  part = {};
}

constexpr float band_step = 24.0F;  ///< levels: bands of one gradient differ by less

/// Two fields so close in colour that they are bands of one gradient: the line between them is no border.
inline bool are_bands(const Surface& a, const Surface& b) {
  return &a != &b && a.kind == Surface::Kind::field && b.kind == Surface::Kind::field &&
         (a.bleeds || b.bleeds) && colour_step(a.colour, b.colour) < band_step;
}

/// Finds the fields and pictures of a page (CV_8UC3).
///
/// A field is a zone of at least 3 x 3 mm that was drawn: inside it the colour is flat or a smooth ramp. That
/// is told by second differences, which are rounding alone in drawn fields and grain in photographs.
/// A picture is a connected remainder most of which has the texture of a photograph: blocks in which no level
/// dominates and many occur.
SurfaceMap find_surfaces(const cv::Mat& rgb, const Scale& scale);

/// The zones that find_surfaces() begins with, to be labelled before.
ZoneBands zones_for_surfaces(const cv::Mat& rgb, const Scale& scale);
/// `lattice`: that of the page.
SurfaceMap find_surfaces(const cv::Mat& rgb, ZoneBands zones, const Scale& scale,
                         const std::optional<Lattice>& lattice);

}  // namespace frisket
