#pragma once

#include <cstdint>
#include <vector>

#include "page/zones/zones.hpp"

namespace frisket {

/// How far colours of one ink lie apart on a page, and how far a picture's specks of one tone scatter;
/// levels.
struct InkSpread {
  int ink, specks;
};

/// Which of the flat, sharp zones on a picture are of an ink's colour, and which are specks of the picture's
/// own (planks, blinds, foliage): ink has one colour, a picture's specks scatter about theirs. Kept in `ink`
/// (by zone) is a colour that makes up most of what is flat within a few levels of it, as a peak of the
/// histogram of colours (Comaniciu and Meer, Mean shift, IEEE TPAMI 24(5), 2002, look for them in the same
/// space), `least_area` pixels or more of it. What is one ink is no speck about the next: cream type may
/// stand beside white. `area`: of each zone, as far as it lies on the picture.
void keep_ink_colours(const std::vector<Zone>& zones, const std::vector<std::int64_t>& area, InkSpread spread,
                      double least_area, std::vector<bool>& ink);

}  // namespace frisket
