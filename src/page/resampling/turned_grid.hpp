#pragma once

#include <optional>

#include "opencv.hpp"

namespace frisket {

/// The grid of a picture that was turned by a free angle and enlarged.
struct TurnedGrid {
  std::optional<double>
      factor;  ///< page pixels to a picture pixel; empty: there is a pattern, but no clear grid
};

/// Looks for a grid at any angle: the second differences of an enlarged picture repeat along both of its own
/// axes, so that their spectrum has two peaks of one frequency at a right angle to each other (Mahdian, Saic,
/// IEEE TIFS 3(3), 2008, carried over to two dimensions). Empty where the spectrum has no peaks that are no
/// chance. `luma`: 0 to 255, at least 64 x 64; the middle 256 x 256 of it are looked at.
std::optional<TurnedGrid> find_turned_grid(const cv::Mat1f& luma);

}  // namespace frisket
