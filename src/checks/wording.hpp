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
/// "11.01 x 8.51 in", for what was measured, and "11 x 8.5 in" for what is to be typed in.
std::string size_text(const Size& size, Unit unit);
std::string exact_size_text(const Size& size, Unit unit);
/// "300", "96.2": four digits at most.
std::string plain_text(double value);
/// "Line of text", "Text, 4 lines,", "Drawing", "Small drawings, 4 of them,", "Box", "Rule", "Picture".
std::string subject_text(Matter matter, int count);

/// What to do about a guide that would print.
inline constexpr const char* guide_advice = "Delete the line, or put it on a layer that does not print.";
/// The box of a guide from trim edge to trim edge.
Rect guide_box(const Guide& guide, const Size& trim);

}  // namespace frisket
