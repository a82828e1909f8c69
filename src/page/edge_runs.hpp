#pragma once

#include "frisket/page.hpp"
#include "page/grounds/boundaries.hpp"

namespace frisket {

/// A run along a trim edge at which one surface ends and another begins, in job space.
struct EdgeRun {
  Edge edge;
  BoundaryRun pixels;  ///< along the strip of that canvas edge
  Length beyond;     ///< how far the inner surface goes on beyond the trim, least along the run; negative: it
                     ///< stops inside
  Length from, to;   ///< along the edge, in job space
  int element = -1;  ///< outermost element that the inner surface is part of; -1: a ground that bleeds
  bool outer_confined = false;  ///< the outer surface lies only along the edge, within 10 mm of the trim
};

/// All runs of 4 mm and more along the four edges, from the canvas edge to `inside` within the trim. On a
/// canvas without bleed the canvas edge itself is the end of what touches it. Of a strewn ground, those no
/// longer than a chip are left out.
std::vector<EdgeRun> edge_runs(const Page& page, Length inside);

/// A thing thinner than 1 mm that lies inside of the trim: a frame's side or a rule, not colour that stops
/// short.
bool is_line_inside(const Page& page, const EdgeRun& run);

/// What lies outside of the run, towards the canvas edge.
const Surface& outer_surface(const Page& page, const EdgeRun& run);

}  // namespace frisket
