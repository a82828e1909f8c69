#pragma once

#include <optional>
#include <string>
#include <vector>

#include "frisket/geometry.hpp"
#include "raster/file_bytes.hpp"

namespace frisket {

/// The boxes of one PDF page as libqpdf reads them, and the document with nothing of the page hidden.
struct PdfPage {
  /// Rectangles in points from the top left corner of the upright media box, /Rotate obeyed and UserUnit
  /// multiplied in; each cut down to the media box. `trim` and `bleed` only where the page says them.
  struct Box {
    double x = 0, y = 0, width = 0, height = 0;
  };
  std::optional<Box> trim, bleed;
  std::optional<Box> crop;       ///< only where it shows less than the media box
  double width = 0, height = 0;  ///< of the media box, which is the page
  double user_unit = 1.0;        ///< ISO 32000-1, table 30: the size of a unit of the page, in 1/72 in
  std::optional<Bytes>
      uncropped;  ///< where there is a `crop`: the same document, this page's crop box widened
  std::vector<std::string> notes;  ///< sentences about what libqpdf had to mend
};

/// Reads page `number` (from 1) of a whole PDF in memory. Media box, crop box and rotation are inherited from
/// the page tree, the other boxes are not (ISO 32000-1, table 30). Throws Error where the document is locked,
/// damaged beyond repair, has no such page, or where the page has no size. Nothing but `document` is read.
PdfPage read_pdf_page(const Bytes& document, int number);

/// The area of the largest media box in a PDF in memory, in square points, UserUnit multiplied in; 0 where no
/// page says one. Throws Error as read_pdf_page() does.
double largest_pdf_page(const Bytes& document);

}  // namespace frisket
