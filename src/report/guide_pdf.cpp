#define POINTERHOLDER_TRANSITION 4  // qpdf: no pointers of its own, std::shared_ptr alone
#include <cmath>
#include <qpdf/QPDF.hh>
#include <qpdf/QPDFWriter.hh>

#include "frisket/report.hpp"
#include "report/guide.hpp"
#include "report/pdf_content.hpp"

namespace frisket {
namespace {

using Object = QPDFObjectHandle;

/// The longest side of a page in user space units that viewers must take (ISO 32000-1, annex C.2).
constexpr double most_units = 14'400;

/// One page in a document of its own.
class GuidePdf {
 public:
  explicit GuidePdf(const GuideDrawing& guide)
      : guide_(guide),
        user_unit_(std::max(
            1.0, std::ceil(std::max(guide.canvas.width, guide.canvas.height).points() / most_units))) {
    pdf_.emptyPDF();
    Object info = Object::newDictionary();
    info.replaceKey("/Title", Object::newUnicodeString(guide.title));
    pdf_.getTrailer().replaceKey("/Info", pdf_.makeIndirectObject(info));
    add_layers();
    pdf_.addPage(pdf_.makeIndirectObject(page()), true);
  }

  /// The same bytes for the same guide: no date, no compression, an /ID made from the content.
  std::string bytes() {
    QPDFWriter writer(pdf_);
    writer.setOutputMemory();
    writer.setMinimumPDFVersion("1.6");  // UserUnit; optional content asks for 1.5
    writer.setObjectStreamMode(qpdf_o_disable);
    writer.setCompressStreams(false);
    writer.setDeterministicID(true);
    writer.write();
    const auto buffer = writer.getBufferSharedPointer();
    return {reinterpret_cast<const char*>(buffer->getBuffer()), buffer->getSize()};
  }

 private:
  void add_layers() {
    Object all = Object::newArray();
    for (const GuideLayer& layer : guide_.layers) {
      Object group = Object::parse("<< /Type /OCG >>");
      group.replaceKey("/Name", Object::newUnicodeString(layer.label));
      group = pdf_.makeIndirectObject(group);
      layers_.replaceKey("/" + layer.id, group);
      all.appendItem(group);
    }
    Object properties = Object::newDictionary(), shown = Object::newDictionary();
    shown.replaceKey("/ON", all);
    shown.replaceKey("/Order", all);
    properties.replaceKey("/OCGs", all);
    properties.replaceKey("/D", shown);
    pdf_.getRoot().replaceKey("/OCProperties", properties);
  }

  Object page() {
    Object page = Object::parse("<< /Type /Page >>");
    const Rect canvas{{}, {}, guide_.canvas.width, guide_.canvas.height};
    page.replaceKey("/MediaBox", box(canvas));
    page.replaceKey("/BleedBox", box(canvas));
    page.replaceKey("/TrimBox", box(guide_.trim));
    if (user_unit_ > 1) page.replaceKey("/UserUnit", Object::newReal(pdf_number(user_unit_)));
    Object resources = Object::parse(
        "<< /Font << /F1 << /Type /Font /Subtype /Type1 /BaseFont /Helvetica /Encoding /WinAnsiEncoding >> "
        ">> "
        ">>");
    resources.replaceKey("/Properties", layers_);
    page.replaceKey("/Resources", resources);
    page.replaceKey("/Contents",
                    pdf_.newStream(pdf_content(guide_, Length::from_mm(1).points() / user_unit_)));
    return page;
  }

  /// A rectangle of the canvas in user space, whose y runs upwards.
  Object box(const Rect& rect) const {
    Object box = Object::newArray();
    for (const Length side :
         {rect.left(), guide_.canvas.height - rect.bottom(), rect.right(), guide_.canvas.height - rect.top()})
      box.appendItem(Object::newReal(pdf_number(side.points() / user_unit_)));
    return box;
  }

  const GuideDrawing& guide_;
  double user_unit_;  ///< user space units are this many points
  QPDF pdf_;
  Object layers_ = Object::newDictionary();
};

}  // namespace

std::string guide_pdf(const Job& job, std::optional<Side> side) {
  const GuideDrawing guide = draw_guide(job, side);
  return GuidePdf(guide).bytes();
}

}  // namespace frisket
