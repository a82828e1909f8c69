#pragma once

#include <string>

#include "frisket/page.hpp"

// The sentences of all checks speak alike: distances in the job's unit, edges and ways by their names.
namespace frisket {

/// "top trim".
std::string trim_edge_text(Edge edge);
/// The way from an edge inwards: "down" from the top, "left" from the right.
std::string_view inwards_text(Edge edge);
/// "0.06 in (4.3 pt)"; in a job that counts in points just that.
std::string with_points(Length length, Unit unit);
/// "Line of text", "Text, 4 lines", "Drawing", "Box", "Rule", "Picture".
std::string subject_text(Matter matter, int lines);

}  // namespace frisket
