// Through qpdf's C interface: its C++ headers are not read by every compiler of C++20 (Clang 14 refuses
// JSON.hh).
#include <qpdf/qpdf-c.h>

#include <cmath>
#include <memory>

#include "frisket/error.hpp"
#include "frisket/report.hpp"
#include "report/guide.hpp"
#include "report/pdf_content.hpp"

namespace frisket {
namespace {

/// The longest side of a page in user space units that viewers must take (ISO 32000-1, annex C.2).
constexpr double most_units = 14'400;

/// One page in a document of its own.
class GuidePdf {
 public:
  explicit GuidePdf(const GuideDrawing& guide)
      : guide_(guide),
        user_unit_(std::max(
            1.0, std::ceil(std::max(guide.canvas.width, guide.canvas.height).points() / most_units))) {
    qpdf_silence_errors(pdf());
    qpdf_empty_pdf(pdf());
    const qpdf_oh info = parsed("<< >>");
    set(info, "/Title", qpdf_oh_new_unicode_string(pdf(), guide.title.c_str()));
    set(qpdf_get_trailer(pdf()), "/Info", qpdf_make_indirect_object(pdf(), info));
    add_page(add_layers());
  }

  /// The same bytes for the same guide: no date, no compression, an /ID made from the content.
  std::string bytes() {
    qpdf_init_write_memory(pdf());
    qpdf_set_minimum_pdf_version(pdf(), "1.6");  // UserUnit; optional content asks for 1.5
    qpdf_set_object_stream_mode(pdf(), qpdf_o_disable);
    qpdf_set_compress_streams(pdf(), QPDF_FALSE);
    qpdf_set_deterministic_ID(pdf(), QPDF_TRUE);
    qpdf_write(pdf());
    if (qpdf_has_error(pdf()) != QPDF_FALSE)
      throw Error(std::string("the guide's PDF cannot be made: ") +
                  qpdf_get_error_full_text(pdf(), qpdf_get_error(pdf())));
    return {reinterpret_cast<const char*>(qpdf_get_buffer(pdf())), qpdf_get_buffer_length(pdf())};
  }

 private:
  struct CleanUp {
    void operator()(qpdf_data data) const { qpdf_cleanup(&data); }
  };

  qpdf_data pdf() const { return pdf_.get(); }
  qpdf_oh parsed(const std::string& text) const { return qpdf_oh_parse(pdf(), text.c_str()); }
  void set(qpdf_oh dictionary, const std::string& key, qpdf_oh value) const {
    qpdf_oh_replace_key(pdf(), dictionary, key.c_str(), value);
  }

  /// Optional content groups, all shown; returned by the names they have in the page's content.
  qpdf_oh add_layers() const {
    const qpdf_oh all = qpdf_oh_new_array(pdf()), by_name = parsed("<< >>");
    for (const GuideLayer& layer : guide_.layers) {
      qpdf_oh group = parsed("<< /Type /OCG >>");
      set(group, "/Name", qpdf_oh_new_unicode_string(pdf(), layer.label.c_str()));
      group = qpdf_make_indirect_object(pdf(), group);
      set(by_name, "/" + layer.id, group);
      qpdf_oh_append_item(pdf(), all, group);
    }
    const qpdf_oh properties = parsed("<< >>"), shown = parsed("<< >>");
    set(shown, "/ON", all);
    set(shown, "/Order", all);
    set(properties, "/OCGs", all);
    set(properties, "/D", shown);
    set(qpdf_get_root(pdf()), "/OCProperties", properties);
    return by_name;
  }

  void add_page(qpdf_oh layers) const {
    const Rect canvas{{}, {}, guide_.canvas.width, guide_.canvas.height};
    const qpdf_oh page =
        parsed("<< /Type /Page /MediaBox " + box(canvas) + " /BleedBox " + box(canvas) + " /TrimBox " +
               box(guide_.trim) + (user_unit_ > 1 ? " /UserUnit " + pdf_number(user_unit_) : "") + " >>");
    const qpdf_oh resources = parsed(
        "<< /Font << /F1 << /Type /Font /Subtype /Type1 /BaseFont /Helvetica /Encoding /WinAnsiEncoding "
        ">> >> >>");
    set(resources, "/Properties", layers);
    set(page, "/Resources", resources);
    set(page, "/Contents", content());
    qpdf_add_page(pdf(), pdf(), qpdf_make_indirect_object(pdf(), page), QPDF_TRUE);
  }

  qpdf_oh content() const {
    const std::string operators = pdf_content(guide_, Length::from_mm(1).points() / user_unit_);
    const qpdf_oh stream = qpdf_oh_new_stream(pdf());
    qpdf_oh_replace_stream_data(pdf(), stream, reinterpret_cast<const unsigned char*>(operators.data()),
                                operators.size(), qpdf_oh_new_null(pdf()), qpdf_oh_new_null(pdf()));
    return stream;
  }

  /// A rectangle of the canvas in user space, whose y runs upwards.
  std::string box(const Rect& rect) const {
    std::string box = "[";
    for (const Length side :
         {rect.left(), guide_.canvas.height - rect.bottom(), rect.right(), guide_.canvas.height - rect.top()})
      box += " " + pdf_number(side.points() / user_unit_);
    return box + " ]";
  }

  const GuideDrawing& guide_;
  double user_unit_;  ///< user space units are this many points
  std::unique_ptr<_qpdf_data, CleanUp> pdf_{qpdf_init()};
};

}  // namespace

std::string guide_pdf(const Job& job, std::optional<Side> side) {
  const GuideDrawing guide = draw_guide(job, side);
  return GuidePdf(guide).bytes();
}

}  // namespace frisket
