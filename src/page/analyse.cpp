#include <algorithm>

#include "frisket/page.hpp"
#include "page/drawings.hpp"
#include "page/elements.hpp"
#include "page/guides.hpp"
#include "page/maps.hpp"
#include "page/pattern_ground.hpp"
#include "page/patterns.hpp"
#include "page/pictures.hpp"
#include "page/placing.hpp"
#include "page/text_lines.hpp"

namespace frisket {

Page analyse(const Raster& raster, const Job& job, std::optional<Side> side, double dpi) {
  Page page;
  page.raster = &raster;
  page.side = side;
  page.dpi = dpi;
  page.file_dpi = raster.file_dpi;
  page.placement = place(raster.width, raster.height, dpi, job);
  if (page.placement.how == Placing::fits_nothing) return page;

  auto maps = std::make_shared<PageMaps>();
  maps->scale = {page.placement.px_per_mm, raster.lossy};
  const cv::Mat rgb = view_of(raster);
  maps->surfaces = find_surfaces(rgb, maps->scale);
  mark_repeating_fields(maps->surfaces);
  ElementTree tree = find_elements(rgb, maps->surfaces, maps->scale);
  std::vector<Pattern> patterns = mark_repeating_elements(tree, maps->scale);
  std::ranges::copy(tiles(maps->surfaces), std::back_inserter(patterns));
  if (!patterns.empty()) {
    give_to_ground(rgb, tree, patterns, maps->scale, maps->surfaces);
    tree = find_elements(rgb, maps->surfaces, maps->scale);
    mark_repeating_elements(tree, maps->scale);
  }
  maps->element = tree.map;
  page.elements = std::move(tree.elements);
  page.guides = find_guides(rgb, page.placement, job.layout(side), maps->scale);
  for (Element& element : page.elements) {
    element.box = page.placement.rect_of(element.box_px);
    element.on_guide =
        std::ranges::any_of(page.guides, [&](const Guide& guide) { return lies_on(element.box, guide); });
  }
  TextLayout text = find_text(page.elements, maps->scale);
  page.lines = std::move(text.lines);
  page.blocks = std::move(text.blocks);
  page.drawings = group_drawings(page.elements, maps->scale);

  for (TextLine& line : page.lines) line.box = page.placement.rect_of(line.box_px);
  for (TextBlock& block : page.blocks)
    for (const int line : block.lines)
      block.box = united(block.box, page.lines[static_cast<std::size_t>(line)].box);
  for (const PictureRegion& region : find_pictures(rgb, dpi)) {
    const PixelRect box{double(region.box.x), double(region.box.y), double(region.box.width),
                        double(region.box.height)};
    page.pictures.push_back({box, page.placement.rect_of(box)});
  }
  page.maps = std::move(maps);
  return page;
}

}  // namespace frisket
