// Page boxes: ISO 32000-1, 14.11.2 and table 30.
#include "raster/pdf_page.hpp"

#include <algorithm>
#include <cmath>

#include "raster/file_facts.hpp"
#include "raster/pdf_document.hpp"

namespace frisket {
namespace {

constexpr double same_pt = 0.01;           // boxes are written with two or three decimals
constexpr double most_user_unit = 75'000;  // beyond it no page has a size that could be printed
constexpr std::size_t most_notes = 3;

std::optional<PdfRectangle> cut_to(const std::optional<PdfRectangle>& box, const PdfRectangle& media) {
  if (!box) return std::nullopt;
  const PdfRectangle cut{std::max(box->left, media.left), std::max(box->bottom, media.bottom),
                         std::min(box->right, media.right), std::min(box->top, media.top)};
  if (cut.width() <= 0 || cut.height() <= 0) return std::nullopt;
  return cut;
}

bool same(const PdfRectangle& a, const PdfRectangle& b) {
  return std::abs(a.left - b.left) <= same_pt && std::abs(a.bottom - b.bottom) <= same_pt &&
         std::abs(a.right - b.right) <= same_pt && std::abs(a.top - b.top) <= same_pt;
}

/// Quarter turns clockwise, 0 to 3.
int quarter_turns(const std::optional<long long>& degrees) {
  return static_cast<int>((degrees.value_or(0) / 90 % 4 + 4) % 4);
}

/// From user space, y upwards, to the page as it is looked at, y downwards.
PdfPage::Box upright(const PdfRectangle& box, const PdfRectangle& media, int turns, double unit) {
  const double left = box.left - media.left, right = media.right - box.right;
  const double bottom = box.bottom - media.bottom, top = media.top - box.top;
  const bool lying = turns % 2 == 1;
  const double x = turns == 0 ? left : turns == 1 ? bottom : turns == 2 ? right : top;
  const double y = turns == 0 ? top : turns == 1 ? left : turns == 2 ? bottom : right;
  return {x * unit, y * unit, (lying ? box.height() : box.width()) * unit,
          (lying ? box.width() : box.height()) * unit};
}

double user_unit_of(const PdfDocument& document, PdfDocument::Object page) {
  const double value = document.number(document.entry(page, "/UserUnit")).value_or(1.0);
  return value > 0 && value <= most_user_unit ? value : 1.0;
}

}  // namespace

PdfPage read_pdf_page(const Bytes& bytes, int number) {
  const PdfDocument document(bytes);
  require_page(number, document.page_count());
  const PdfDocument::Object page = document.page(number);
  PdfPage found;
  found.user_unit = user_unit_of(document, page);
  const PdfDocument::Object media_object = document.inherited(page, "/MediaBox");
  const auto media = document.rectangle(media_object);
  // A reader takes a size of its own then: what it shows is not the page.
  if (!media) throw_damaged(FileKind::pdf, "it does not say how large the page is");
  const int turns = quarter_turns(document.integer(document.inherited(page, "/Rotate")));
  const PdfPage::Box whole = upright(*media, *media, turns, found.user_unit);
  found.width = whole.width;
  found.height = whole.height;
  const auto placed = [&](const std::optional<PdfRectangle>& box) -> std::optional<PdfPage::Box> {
    const auto cut = cut_to(box, *media);
    return cut ? std::optional(upright(*cut, *media, turns, found.user_unit)) : std::nullopt;
  };
  found.trim = placed(document.rectangle(document.entry(page, "/TrimBox")));
  found.bleed = placed(document.rectangle(document.entry(page, "/BleedBox")));
  const auto crop = cut_to(document.rectangle(document.inherited(page, "/CropBox")), *media);
  if (crop && !same(*crop, *media)) {
    found.crop = placed(crop);
    document.replace(page, "/CropBox", media_object);
    found.uncropped = document.written();
  }
  for (const std::string& warning : document.warnings(most_notes))
    found.notes.push_back("while its boxes were read the PDF gave a warning: " + warning);
  return found;
}

double largest_pdf_page(const Bytes& bytes) {
  const PdfDocument document(bytes);
  double largest = 0;
  for (int number = 1, count = document.page_count(); number <= count; ++number) {
    const PdfDocument::Object page = document.page(number);
    const auto media = document.rectangle(document.inherited(page, "/MediaBox"));
    const double unit = user_unit_of(document, page);
    if (media) largest = std::max(largest, media->width() * media->height() * unit * unit);
  }
  return largest;
}

}  // namespace frisket
