#include "raster/file_facts.hpp"

#include "frisket/error.hpp"

namespace frisket {

void require_within(const PixelSize& size, const RasterBounds& bounds) {
  const std::string measured = std::to_string(size.width) + " x " + std::to_string(size.height) + " px";
  if (size.width < 1 || size.height < 1)
    throw Error("the page has no size (" + measured + "); export it again");
  if (size.width > bounds.side || size.height > bounds.side)
    throw Error("the page is " + measured + "; at most " + std::to_string(bounds.side) +
                " px a side are opened; export it at a lower resolution");
  if (size.width * size.height > bounds.pixels)
    throw Error("the page is " + measured + "; at most " + std::to_string(bounds.pixels / 1'000'000) +
                " megapixels are opened; export it at a lower resolution");
}

void require_page(int number, int count) {
  if (number >= 1 && number <= count) return;
  throw Error("there is no page " + std::to_string(number) + "; the file has " +
              (count == 1 ? "one page" : "pages 1 to " + std::to_string(count)));
}

void throw_truncated(FileKind kind, const std::string& detail) {
  throw Error("the " + kind_name(kind) + " ends early (" + detail +
              "): the file is truncated; export or copy it again");
}

void throw_damaged(FileKind kind, const std::string& detail) {
  throw Error("the " + kind_name(kind) + " is damaged (" + detail + "); export or copy it again");
}

}  // namespace frisket
