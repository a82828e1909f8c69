#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "frisket/geometry.hpp"
#include "frisket/job.hpp"
#include "frisket/raster.hpp"
#include "frisket/stages.hpp"

namespace frisket {

/// How the canvas was laid under the job: it is trim and bleed, or the trim; by the boxes of a PDF page; by
/// printed marks; in the middle of a larger canvas.
enum class Placing { by_bleed, by_trim, by_boxes, by_marks, centred, fits_nothing };
/// What the trim was placed by: "canvas", "boxes", "marks" or "centred"; empty where it could not be.
std::string_view placed_by_name(Placing how);

/// Where the trim lies on the canvas.
struct Placement {
  Placing how = Placing::fits_nothing;
  PixelRect trim_px;  ///< of a crooked page: as it lies once the page is turned straight about its middle
  double px_per_mm = 0;
  double skew = 0;  ///< degrees by which the page is turned clockwise on the canvas

  Length x_of(double px) const { return Length::from_mm((px - trim_px.x) / px_per_mm); }
  Length y_of(double px) const { return Length::from_mm((px - trim_px.y) / px_per_mm); }
  double px_of_x(Length x) const { return trim_px.x + x.mm() * px_per_mm; }
  double px_of_y(Length y) const { return trim_px.y + y.mm() * px_per_mm; }
  Rect rect_of(const PixelRect& px) const {
    return {x_of(px.x), y_of(px.y), Length::from_mm(px.width / px_per_mm),
            Length::from_mm(px.height / px_per_mm)};
  }
  PixelRect pixels_of(const Rect& rect) const {
    return {px_of_x(rect.x), px_of_y(rect.y), rect.width.mm() * px_per_mm, rect.height.mm() * px_per_mm};
  }
};

/// What a thing on the page is taken for.
enum class Matter { text, drawing, rule, field, picture };

/// A connected thing that stands on a ground: a glyph, an icon, a rule, a box with all that is in it, a
/// picture.
struct Element {
  PixelRect box_px;  ///< its ink, edges to a fraction of a pixel
  Rect box;          ///< the same in job space
  Matter matter = Matter::drawing;
  int parent = -1;        ///< index of the element it stands on; -1: on paper or on a ground that bleeds
  int line = -1;          ///< index of its text line; -1: not text
  bool on_guide = false;  ///< part of one of Page::guides
  bool repeats = false;   ///< one of many alike that make a pattern: ground, not matter
  double ink = 0;         ///< share of its box that it covers, with all that stands on it, 0 to 1
  bool touches_canvas = false;
};

/// A line of text: its letters are elements.
struct TextLine {
  std::vector<int> letters;  ///< indices into Page::elements, in reading direction along the line
  std::vector<int> words;    ///< where in `letters` each word begins; the first is 0
  PixelRect box_px;
  Rect box;
  bool vertical = false;  ///< runs along y, or more so than along x
  int block = -1;         ///< index of its block
  int parent = -1;        ///< as Element::parent
};

/// Lines that belong together: one size, one column.
struct TextBlock {
  std::vector<int> lines;
  Rect box;
};

/// A photographic region.
struct Picture {
  PixelRect box_px;
  Rect box;
};

/// A thin line all along a trim edge or a fold: left in as a guide, it would print.
struct Guide {
  bool vertical = true;  ///< lies at an x
  Length position;       ///< of its centre
  Length width;
  std::optional<Edge> edge;  ///< the trim edge it lies on
  std::optional<int> fold;   ///< or the fold, from 1
};

/// Crop marks, and what stands beside them, found on the canvas.
struct TrimMarks {
  PixelRect trim_px;            ///< the trim they enclose, as Placement::trim_px
  Size size;                    ///< of that trim
  double skew = 0;              ///< degrees by which it is turned clockwise
  int corners = 0;              ///< that have both of their marks, 2 to 4
  int strokes = 0;              ///< marks that agree on the trim, 4 to 8
  bool whole = true;            ///< all four sides were found; else one side was taken from the ticket
  std::vector<Length> folds;    ///< fold marks at two opposite sides: x from the left of that trim
  std::vector<Length> folds_y;  ///< likewise y from its top
};

/// Label images of the analysis; private to the library (src/page/maps.hpp).
struct PageMaps;

/// A page under its job, with the analysis that all checks share, made once.
struct Page {
  /// What is analysed: the canvas, or, where the trim lies somewhere on a larger one, trim and bleed cut out
  /// of it and turned straight; without a guide that was left in whole.
  const Raster* raster = nullptr;
  std::shared_ptr<const Raster> cut_out{};  ///< owns `raster` where it is not the canvas
  const Raster* canvas = nullptr;           ///< the page as it came
  Placement on_canvas;                      ///< where the trim lies there
  std::optional<TrimMarks> marks{};         ///< where they were looked for and found
  std::optional<Side> side;
  double dpi = 0;
  std::optional<double> file_dpi;  ///< what the file itself says, where it says something
  Placement placement;             ///< where the trim lies on `raster`
  std::vector<Element> elements;
  std::vector<TextLine> lines;
  std::vector<TextBlock> blocks;
  std::vector<std::vector<int>> drawings;  ///< elements that are no text: parts of one drawing together
  std::vector<int> strewn;                 ///< elements strewn over the page that run off it: ground
  std::vector<Picture> pictures;
  std::vector<Guide> guides;
  std::shared_ptr<const PageMaps> maps;
};

/// From now on analyses use at most `threads` (1 or more) at a time. What they find does not depend on it.
void use_analysis_threads(int threads);

/// Places and analyses a page. Where the canvas fits nothing only the placement is made. `sink` is told of
/// the stages: "placing", "guides", "surfaces", "patterns", "elements", "text", "drawings", "pictures".
Page analyse(const Raster& raster, const Job& job, std::optional<Side> side, double dpi,
             const StageSink& sink = {});

}  // namespace frisket
