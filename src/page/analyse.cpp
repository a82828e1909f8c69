#include "frisket/page.hpp"
#include "page/placing.hpp"

namespace frisket {

Page analyse(const Raster& raster, const Job& job, std::optional<Side> side, double dpi) {
  Page page;
  page.raster = &raster;
  page.side = side;
  page.dpi = dpi;
  page.file_dpi = raster.file_dpi;
  page.placement = place(raster.width, raster.height, dpi, job);
  return page;
}

}  // namespace frisket
