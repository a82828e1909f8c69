#pragma once

#include <string_view>

#include "frisket/finding.hpp"
#include "report/svg.hpp"

namespace frisket {

// Colours of the palette of Okabe and Ito, 'Color Universal Design' (2008, jfly.uni-koeln.de/color), told
// apart by readers with any common colour vision. What a colour says, a line style or a shape says as well.
namespace palette {
inline constexpr std::string_view black = "#000000";
inline constexpr std::string_view sky_blue = "#56B4E9";
inline constexpr std::string_view bluish_green = "#009E73";
inline constexpr std::string_view blue = "#0072B2";
inline constexpr std::string_view vermillion = "#D55E00";
inline constexpr std::string_view reddish_purple = "#CC79A7";
inline constexpr std::string_view paper = "#FFFDF8";  ///< ours: behind text
inline constexpr std::string_view quiet = "#5A5A5A";  ///< ours: text that may be overlooked
}  // namespace palette

// The job's own lines, each with a dash of its own; strokes in overlay pixels.
inline constexpr Stroke trim_stroke{palette::black, 1.6, ""};
inline constexpr Stroke bleed_stroke{palette::sky_blue, 2, "12 4"};
inline constexpr Stroke safe_stroke{palette::bluish_green, 1.6, "4 4"};
inline constexpr Stroke fold_stroke{palette::reddish_purple, 2, "18 4 3 4"};

/// Heavier the graver: fix, review, note.
Stroke severity_stroke(Severity severity);

inline constexpr double badge_height = 22;  ///< overlay pixels; also the height of a tag
inline constexpr Type badge_type{12, true};
inline constexpr Type label_type{12, false};

/// Width of the badge that holds `number`.
double badge_width(std::string_view number);
/// The number of a finding (empty in the key): a full disc for fix, a ringed hexagon for review, a plain
/// square for note.
void draw_badge(Svg& svg, Spot centre, std::string_view number, Severity severity);

}  // namespace frisket
