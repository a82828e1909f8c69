#include "report/guide.hpp"

#include <cmath>
#include <sstream>

#include "report/guide_names.hpp"
#include "report/overlay_style.hpp"

namespace frisket {
namespace {

/// The overlay's strokes on paper: a trim of 0.16 mm, about half a point.
constexpr double mm_per_overlay_pixel = 0.1;

/// "12 4" of overlay pixels in millimetres: "1.2 0.4".
std::string dash_in_mm(std::string_view dash) {
  std::istringstream lengths{std::string(dash)};
  std::string scaled;
  for (int length = 0; lengths >> length;) {  // tenths, so that no locale has a say
    if (!scaled.empty()) scaled += " ";
    scaled += std::to_string(length / 10) + "." + std::to_string(length % 10);
  }
  return scaled;
}

GuideLayer layer(std::string id, std::string label, const Stroke& stroke) {
  static_assert(mm_per_overlay_pixel == 0.1, "dash_in_mm counts in tenths");
  return {std::move(id),
          std::move(label),
          stroke.colour,
          Length::from_mm(stroke.width * mm_per_overlay_pixel),
          dash_in_mm(stroke.dash),
          {},
          {},
          {}};
}

/// Draws in job space and moves everything to the canvas at the end.
class GuideMaker {
 public:
  GuideMaker(const Job& job, std::optional<Side> side)
      : job_(job), layout_(job.layout(side)), trim_{{}, {}, job.trim.width, job.trim.height} {}

  std::vector<GuideLayer> layers() const {
    std::vector<GuideLayer> all{bleed(), safe_zone(), folds(), trim(), panel_names(job_, layout_)};
    std::erase_if(all, [](const GuideLayer& layer) {
      return layer.boxes.empty() && layer.lines.empty() && layer.texts.empty();
    });
    for (GuideLayer& layer : all) move_to_canvas(layer);
    return all;
  }

  Rect canvas() const { return grown(trim_, job_.bleed); }

 private:
  /// The line lies on the very edge of the canvas, so that it can be snapped to; half of it shows.
  GuideLayer bleed() const {
    GuideLayer bleed = layer("bleed", "Bleed", bleed_stroke);
    bleed.width = bleed.width * 2.0;
    if (job_.bleed != Edges{}) bleed.boxes.push_back(canvas());
    return bleed;
  }

  /// Panel by panel, so that folds are kept clear of as well as the trim.
  GuideLayer safe_zone() const {
    GuideLayer safe = layer("safe-zone", "Safe zone", safe_stroke);
    for (const Panel& panel : layout_.panels) {
      const Rect live = live_area(job_, layout_, panel);
      if (!live.empty() && live != trim_) safe.boxes.push_back(live);
    }
    return safe;
  }

  GuideLayer folds() const {
    GuideLayer folds = layer("folds", "Folds", fold_stroke);
    const Rect page = canvas();
    for (const Length fold : layout_.folds)
      folds.lines.push_back({{fold, page.top()}, {fold, page.bottom()}});
    for (const Length fold : layout_.folds_y)
      folds.lines.push_back({{page.left(), fold}, {page.right(), fold}});
    return folds;
  }

  GuideLayer trim() const {
    GuideLayer trim = layer("trim", "Trim", trim_stroke);
    trim.boxes.push_back(trim_);
    return trim;
  }

  void move_to_canvas(GuideLayer& layer) const {
    const auto move = [&](Length& x, Length& y) { x += job_.bleed.left, y += job_.bleed.top; };
    for (Rect& box : layer.boxes) move(box.x, box.y);
    for (GuideLine& line : layer.lines) move(line.from.x, line.from.y), move(line.to.x, line.to.y);
    for (GuideText& text : layer.texts) move(text.at.x, text.at.y);
  }

  const Job& job_;
  const SideLayout& layout_;
  Rect trim_;
};

std::string title_of(const Job& job, std::optional<Side> side) {
  std::string title = job.name.empty() ? "Guide" : job.name;
  if (side) title += ", " + std::string(side_name(*side));
  return title;
}

}  // namespace

GuideDrawing draw_guide(const Job& job, std::optional<Side> side) {
  const GuideMaker maker(job, side);
  const Rect canvas = maker.canvas();
  return {title_of(job, side),
          {canvas.width, canvas.height},
          {job.bleed.left, job.bleed.top, job.trim.width, job.trim.height},
          maker.layers()};
}

}  // namespace frisket
