// Page boxes: ISO 32000-1, 14.11.2 and table 30.
#define POINTERHOLDER_TRANSITION 4  // libqpdf 11: plain std::shared_ptr, no old names

#include "raster/pdf_page.hpp"

#include <algorithm>
#include <cmath>
#include <qpdf/Buffer.hh>
#include <qpdf/QPDF.hh>
#include <qpdf/QPDFExc.hh>
#include <qpdf/QPDFPageDocumentHelper.hh>
#include <qpdf/QPDFPageObjectHelper.hh>
#include <qpdf/QPDFWriter.hh>

#include "frisket/error.hpp"
#include "raster/file_facts.hpp"

namespace frisket {
namespace {

using Rectangle = QPDFObjectHandle::Rectangle;

constexpr double same_pt = 0.01;           // boxes are written with two or three decimals
constexpr double most_user_unit = 75'000;  // beyond it no page has a size that could be printed
constexpr std::size_t most_notes = 3;

/// The rectangle with its corners in order; empty where the object is none, or has no area.
std::optional<Rectangle> rectangle_of(QPDFObjectHandle object) {
  if (!object.isRectangle()) return std::nullopt;
  const Rectangle r = object.getArrayAsRectangle();  // in order already
  for (const double side : {r.llx, r.lly, r.urx, r.ury})
    if (!std::isfinite(side)) return std::nullopt;
  if (r.urx - r.llx <= 0 || r.ury - r.lly <= 0) return std::nullopt;
  return r;
}

std::optional<Rectangle> cut_to(const std::optional<Rectangle>& box, const Rectangle& media) {
  if (!box) return std::nullopt;
  const Rectangle cut(std::max(box->llx, media.llx), std::max(box->lly, media.lly),
                      std::min(box->urx, media.urx), std::min(box->ury, media.ury));
  if (cut.urx - cut.llx <= 0 || cut.ury - cut.lly <= 0) return std::nullopt;
  return cut;
}

bool same(const Rectangle& a, const Rectangle& b) {
  return std::abs(a.llx - b.llx) <= same_pt && std::abs(a.lly - b.lly) <= same_pt &&
         std::abs(a.urx - b.urx) <= same_pt && std::abs(a.ury - b.ury) <= same_pt;
}

/// Quarter turns clockwise, 0 to 3.
int quarter_turns(QPDFObjectHandle rotate) {
  if (!rotate.isInteger()) return 0;
  const long long turns = rotate.getIntValue() / 90 % 4;
  return static_cast<int>((turns + 4) % 4);
}

/// From user space, y upwards, to the page as it is looked at, y downwards.
PdfPage::Box upright(const Rectangle& box, const Rectangle& media, int turns, double unit) {
  const double left = box.llx - media.llx, right = media.urx - box.urx;
  const double bottom = box.lly - media.lly, top = media.ury - box.ury;
  const double width = box.urx - box.llx, height = box.ury - box.lly;
  const bool lying = turns % 2 == 1;
  const double x = turns == 0 ? left : turns == 1 ? bottom : turns == 2 ? right : top;
  const double y = turns == 0 ? top : turns == 1 ? left : turns == 2 ? bottom : right;
  return {x * unit, y * unit, (lying ? height : width) * unit, (lying ? width : height) * unit};
}

double user_unit_of(QPDFObjectHandle page) {
  QPDFObjectHandle unit = page.getKey("/UserUnit");
  if (!unit.isNumber()) return 1.0;
  const double value = unit.getNumericValue();
  return value > 0 && value <= most_user_unit ? value : 1.0;
}

Bytes written(QPDF& document) {
  QPDFWriter writer(document);
  writer.setOutputMemory();
  writer.setStreamDataMode(qpdf_s_preserve);
  writer.setPreserveEncryption(false);
  writer.setDeterministicID(true);
  writer.write();
  const auto buffer = writer.getBufferSharedPointer();
  return {buffer->getBuffer(), buffer->getBuffer() + buffer->getSize()};
}

PdfPage read(QPDF& document, int number) {
  const auto pages = QPDFPageDocumentHelper(document).getAllPages();
  require_page(number, static_cast<int>(pages.size()));
  QPDFPageObjectHelper helper = pages[static_cast<std::size_t>(number - 1)];
  QPDFObjectHandle page = helper.getObjectHandle();
  PdfPage found;
  found.user_unit = user_unit_of(page);
  const QPDFObjectHandle media_object = helper.getAttribute("/MediaBox", false);
  const auto media = rectangle_of(media_object);
  if (!media) return found;  // a reader then takes a size of its own: nothing can be said about the others
  const int turns = quarter_turns(helper.getAttribute("/Rotate", false));
  const auto placed = [&](const std::optional<Rectangle>& box) -> std::optional<PdfPage::Box> {
    const auto cut = cut_to(box, *media);
    return cut ? std::optional(upright(*cut, *media, turns, found.user_unit)) : std::nullopt;
  };
  found.trim = placed(rectangle_of(page.getKey("/TrimBox")));
  found.bleed = placed(rectangle_of(page.getKey("/BleedBox")));
  const auto crop = cut_to(rectangle_of(helper.getAttribute("/CropBox", false)), *media);
  if (crop && !same(*crop, *media)) {
    found.crop = placed(crop);
    page.replaceKey("/CropBox", media_object);
    found.uncropped = written(document);
  }
  return found;
}

[[noreturn]] void throw_unreadable(const QPDFExc& fault) {
  if (fault.getErrorCode() == qpdf_e_password)
    throw Error("the PDF is locked with a password; export it without one");
  throw_damaged(FileKind::pdf, "its page tree cannot be read: " + fault.getMessageDetail());
}

/// Parses a document and works on it; faults of libqpdf become Errors.
template <class Work>
auto in_document(const Bytes& bytes, Work work) {
  QPDF document;
  document.setSuppressWarnings(true);
  try {
    document.processMemoryFile("page", reinterpret_cast<const char*>(bytes.data()), bytes.size());
    return work(document);
  } catch (const QPDFExc& fault) {
    throw_unreadable(fault);
  } catch (const Error&) {
    throw;
  } catch (const std::bad_alloc&) {
    throw;
  } catch (const std::exception& fault) {  // libqpdf throws these for damage that it meets while it mends
    throw_damaged(FileKind::pdf, std::string("its page tree cannot be read: ") + fault.what());
  }
}

}  // namespace

PdfPage read_pdf_page(const Bytes& bytes, int number) {
  return in_document(bytes, [&](QPDF& document) {
    PdfPage page = read(document, number);
    for (const QPDFExc& warning : document.getWarnings())
      if (page.notes.size() < most_notes)
        page.notes.push_back("while its boxes were read the PDF gave a warning: " +
                             warning.getMessageDetail());
    return page;
  });
}

double largest_pdf_page(const Bytes& bytes) {
  return in_document(bytes, [](QPDF& document) {
    double largest = 0;
    for (QPDFPageObjectHelper page : QPDFPageDocumentHelper(document).getAllPages()) {
      const auto media = rectangle_of(page.getAttribute("/MediaBox", false));
      const double unit = user_unit_of(page.getObjectHandle());
      if (media)
        largest = std::max(largest, (media->urx - media->llx) * (media->ury - media->lly) * unit * unit);
    }
    return largest;
  });
}

}  // namespace frisket
