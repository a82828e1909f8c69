#pragma once

#include <vector>

#include "frisket/page.hpp"

namespace frisket {

/// What is judged as one thing: a line of text, a drawing of several parts, a box, a picture.
struct LiveMatter {
  std::vector<int> members;  ///< elements
  Matter matter = Matter::drawing;
  Rect box;
  int line = -1;    ///< of Page::lines, where it is text
  int parent = -1;  ///< as Element::parent
  bool touches_canvas = false;
  double ink = 1.0;  ///< share of its box that it covers, where it is one element
};

/// Everything on the page that stands on a ground, those on paper and on grounds that bleed first, then what
/// stands on them. Guides and patterns are left out.
std::vector<LiveMatter> live_matter(const Page& page);

}  // namespace frisket
