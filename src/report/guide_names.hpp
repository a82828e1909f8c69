#pragma once

#include "report/guide.hpp"

namespace frisket {

/// The layer with the name and the size of every panel in its middle, in job space: upright where there is
/// room, else turned, smaller where it must be, and left out where nobody could read it.
GuideLayer panel_names(const Job& job, const SideLayout& layout);

}  // namespace frisket
