#pragma once

#include "page/placing/mark_rectangle.hpp"

namespace frisket {

/// Is `mark`, which stands at `place` of the rectangle `lines`, a part of something longer or wider? A mark
/// ends in nothing, and nothing like it stands beside it but the marks of the bleed. The lines of frames,
/// tables, crosses, scales and cutting lines go on:
///
/// * in a piece like it in its own line, no farther away than it is long: a dash;
/// * on the way to its corner or, where it meets the corner, inside; in its own ink or in any other, since
///   what is drawn over a line may hide it there;
/// * as the other arm of a cross whose middle is left open;
/// * in strokes side by side with it, farther out than marks of the bleed are, or at even distances: a scale.
///
/// `all` are the strokes of the canvas `rgb` (CV_8UC3), crossed ones among them; `widest` of a line, px.
bool is_part_of_more(const cv::Mat& rgb, const MarkStrokes& all, const TrimLines& lines, const Stroke& mark,
                     MarkPlace place, int widest);

}  // namespace frisket
