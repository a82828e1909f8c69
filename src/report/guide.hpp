#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "frisket/job.hpp"

namespace frisket {

/// A straight line on the guide's canvas.
struct GuideLine {
  Point from, to;
};

/// One line of ASCII text, centred on its baseline.
struct GuideText {
  Point at;     ///< the middle of the baseline
  Length size;  ///< of the type
  std::string words;
  bool turned = false;  ///< reads upwards
};

/// What is drawn on one layer, all in one colour and line style. Dashes are millimetres, as in SVG's
/// stroke-dasharray and in PDF alike; empty for a solid line.
struct GuideLayer {
  std::string id, label;
  std::string_view colour;  ///< "#RRGGBB"
  Length width;
  std::string dash;
  std::vector<Rect> boxes;
  std::vector<GuideLine> lines;
  std::vector<GuideText> texts;
};

/// A drawing at full size to lay under the artwork. The canvas is the trim with its bleed, exactly; places
/// are counted from its top left corner. Layers from the lowest to the topmost; what the job does not have
/// (folds, bleed) has no layer.
struct GuideDrawing {
  std::string title;  ///< UTF-8, from outside
  Size canvas;
  Rect trim;
  std::vector<GuideLayer> layers;
};

/// The guide of one side; work that is not folded has no side.
GuideDrawing draw_guide(const Job& job, std::optional<Side> side);

}  // namespace frisket
