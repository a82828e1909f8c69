#include <algorithm>
#include <future>

#include "frisket/page.hpp"
#include "page/elements/drawings.hpp"
#include "page/elements/elements.hpp"
#include "page/elements/pattern_ground.hpp"
#include "page/elements/patterns.hpp"
#include "page/elements/strewn_ground.hpp"
#include "page/elements/striped_grounds.hpp"
#include "page/first_look.hpp"
#include "page/guides/guide_lifting.hpp"
#include "page/guides/guides.hpp"
#include "page/maps.hpp"
#include "page/pictures/picture_resampling.hpp"
#include "page/pictures/pictures.hpp"
#include "page/placing/cut_out.hpp"
#include "page/placing/locating.hpp"
#include "page/text/text_lines.hpp"

namespace frisket {
namespace {

/// Lays the page under the job; what lies round trim and bleed on a larger canvas is left out from here on.
void lay_under_job(Page& page, const Job& job) {
  Location location = locate(*page.canvas, page.dpi, job);
  page.on_canvas = page.placement = location.placement;
  page.marks = std::move(location.marks);
  const Placing how = page.placement.how;
  if (how != Placing::by_boxes && how != Placing::by_marks && how != Placing::centred) return;
  CutOut cut = cut_out(*page.canvas, page.on_canvas, job);
  page.cut_out = std::make_shared<const Raster>(std::move(cut.raster));
  page.raster = page.cut_out.get();
  page.placement = cut.placement;
}

/// What is looked at from here on is the page without a guide that was left in whole.
void look_below_guides(Page& page, const Job& job, const Scale& scale,
                       const std::optional<Lattice>& lattice) {
  const std::vector<JobLine> lines = job_lines(page.placement, job, job.layout(page.side));
  page.guides = find_guides(view_of(*page.raster), page.placement, lines, scale, lattice);
  auto lifted = lift_guide(*page.raster, page.placement, page.guides, lines);
  if (!lifted) return;
  page.cut_out = std::make_shared<const Raster>(std::move(*lifted));
  page.raster = page.cut_out.get();
}

struct MeasuredPictures {
  std::vector<PictureRegion> regions;
  std::vector<Resampling>
      resamplings;  ///< none of a page that was turned straight: that wipes out all traces
};

/// Pictures have nothing to do with surfaces and elements: where there are two threads they are looked for
/// and measured while the others are.
std::future<MeasuredPictures> pictures_of(const Page& page, TextureMapper& texture) {
  const std::launch when = cv::getNumThreads() > 1 ? std::launch::async : std::launch::deferred;
  return std::async(when, [&page, &texture, raster = page.raster] {
    const cv::Mat rgb = view_of(*raster);
    MeasuredPictures found{find_pictures(rgb, texture.finish(), page.dpi), {}};
    if (page.on_canvas.skew == 0) found.resamplings = resamplings_of(rgb, found.regions, raster->lossy);
    return found;
  });
}

/// What stands on the page's grounds. The figures of patterns are given to the grounds on which they lie, and
/// the rest is looked for again without them.
ElementTree find_matter(const cv::Mat& rgb, const Scale& scale, SurfaceMap& surfaces, StageClock& clock) {
  std::vector<Pattern> patterns = merge_stripes(surfaces, scale);
  mark_repeating_fields(surfaces);
  clock.end("patterns");
  SharpZones sharp(rgb, scale);
  ElementTree tree = find_elements(rgb, surfaces, scale, sharp);
  clock.end("elements");
  if (scale.lossy) patterns.clear();  // ringing has the colours of stripes too
  std::ranges::copy(mark_repeating_elements(tree), std::back_inserter(patterns));
  std::ranges::copy(tiles(rgb, surfaces), std::back_inserter(patterns));
  const bool given = give_to_ground(rgb, tree, patterns, scale, surfaces);
  clock.end("patterns");
  if (!given) return tree;
  tree = {};  // of a page full of dots, two do not fit into memory
  tree = find_elements(rgb, surfaces, scale, sharp);
  mark_repeating_elements(tree);
  if (scale.lossy) mark_figures_left(tree, patterns);
  clock.end("elements");
  return tree;
}

/// Finds the text, and what is strewn over the page; that may have passed for letters, and is then left out.
TextLayout read_text(const std::vector<cv::Vec3f>& colours, const PageMaps& maps, Glyphs& glyphs,
                     Page& page) {
  std::vector<Matter> before;
  for (const Element& element : page.elements) before.push_back(element.matter);
  TextLayout text = find_text(page.elements, glyphs, maps.scale);
  page.strewn =
      mark_strewn(page.elements, colours, text.lines, maps.surfaces.surfaces, page.placement.trim_px);
  if (page.strewn.empty()) return text;
  for (std::size_t i = 0; i < page.elements.size(); ++i)
    page.elements[i].matter = before[i], page.elements[i].line = -1;
  return find_text(page.elements, glyphs, maps.scale);
}

/// The lines and blocks of text, and the drawings that other elements make up.
void group_elements(const cv::Mat& rgb, const PageMaps& maps, const std::vector<cv::Vec3f>& colours,
                    Page& page, StageClock& clock) {
  Glyphs glyphs(page.elements, rgb, maps.element);
  TextLayout text = read_text(colours, maps, glyphs, page);
  page.lines = std::move(text.lines);
  page.blocks = std::move(text.blocks);
  for (TextLine& line : page.lines) line.box = page.placement.rect_of(line.box_px);
  for (TextBlock& block : page.blocks)
    for (const int line : block.lines)
      block.box = united(block.box, page.lines[static_cast<std::size_t>(line)].box);
  clock.end("text");
  page.drawings = group_drawings(page.elements, maps.scale);
  clock.end("drawings");
}

}  // namespace

Page analyse(const Raster& raster, const Job& job, std::optional<Side> side, double dpi,
             const StageSink& sink) {
  return analyse(raster, job, side, dpi, sink, nullptr);
}

Page analyse(const Raster& canvas, const Job& job, std::optional<Side> side, double dpi,
             const StageSink& sink, HeadStart* head_start) {
  StageClock clock(sink);
  Page page;
  page.raster = page.canvas = &canvas;
  page.side = side;
  page.dpi = dpi;
  page.file_dpi = canvas.file_dpi;
  lay_under_job(page, job);
  clock.end("placing");
  if (page.placement.how == Placing::fits_nothing) return page;

  auto maps = std::make_shared<PageMaps>();
  maps->scale = {page.placement.px_per_mm, page.raster->lossy};
  const auto lattice = find_lattice(view_of(*page.raster), maps->scale);
  look_below_guides(page, job, maps->scale, lattice);
  clock.end("guides");
  const Raster& raster = *page.raster;
  const cv::Mat rgb = view_of(raster);
  FirstLook look = first_look(rgb, raster.lossy, dpi, head_start);
  std::future<MeasuredPictures> pictures = pictures_of(page, look.texture);
  maps->surfaces = find_surfaces(rgb, std::move(look.zones), maps->scale, lattice);
  clock.end("surfaces");
  ElementTree tree = find_matter(rgb, maps->scale, maps->surfaces, clock);
  maps->element = std::move(tree.map);
  page.elements = std::move(tree.elements);
  for (Element& element : page.elements) {
    element.box = page.placement.rect_of(element.box_px);
    element.on_guide =
        std::ranges::any_of(page.guides, [&](const Guide& guide) { return lies_on(element.box, guide); });
  }
  clock.end("elements");
  group_elements(rgb, *maps, tree.colours, page, clock);

  MeasuredPictures measured = pictures.get();
  maps->resamplings = std::move(measured.resamplings);
  for (const PictureRegion& region : measured.regions) {
    const PixelRect box{double(region.box.x), double(region.box.y), double(region.box.width),
                        double(region.box.height)};
    page.pictures.push_back({box, page.placement.rect_of(box)});
  }
  clock.end("pictures");
  page.maps = std::move(maps);
  return page;
}

}  // namespace frisket
