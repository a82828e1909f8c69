#pragma once

#include "frisket/finding.hpp"
#include "frisket/page.hpp"

namespace frisket {

/// What line art has to have, pixels to the inch: 600 to 1200 is common practice (no source).
struct LineArtLimits {
  double line_art;  ///< below it a person should look
  double least;     ///< of pictures: below it steps are seen by anybody
};

/// Adds drawn matter of the page that was enlarged from pixels to the outcome's images, and a finding for
/// what has fewer than its limit asks.
void judge_stepped_art(const Page& page, const LineArtLimits& limits, Outcome& outcome);

/// The finding of a page that holds black and white alone and was rendered below the limit of line art.
std::optional<Finding> judge_one_bit_page(const Page& page, const LineArtLimits& limits);

}  // namespace frisket
