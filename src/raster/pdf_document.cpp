#include "raster/pdf_document.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "frisket/error.hpp"
#include "raster/file_facts.hpp"

namespace frisket {
namespace {

constexpr int most_levels = 100;  // of a page tree; hostile ones go round in rings

}  // namespace

void PdfDocument::CleanUp::operator()(qpdf_data data) const { qpdf_cleanup(&data); }

PdfDocument::PdfDocument(const Bytes& bytes) : data_(qpdf_init()) {
  qpdf_set_suppress_warnings(data_.get(), QPDF_TRUE);
  qpdf_silence_errors(data_.get());
  qpdf_read_memory(data_.get(), "page", reinterpret_cast<const char*>(bytes.data()), bytes.size(), nullptr);
  check();
}

void PdfDocument::check() const {
  if (qpdf_has_error(data_.get()) == QPDF_FALSE) return;
  const qpdf_error fault = qpdf_get_error(data_.get());
  if (qpdf_get_error_code(data_.get(), fault) == qpdf_e_password)
    throw Error("the PDF is locked with a password; export it without one");
  throw_damaged(FileKind::pdf, std::string("its page tree cannot be read: ") +
                                   qpdf_get_error_message_detail(data_.get(), fault));
}

int PdfDocument::page_count() const {
  const int count = qpdf_get_num_pages(data_.get());
  check();
  return count;
}

PdfDocument::Object PdfDocument::page(int number) const {
  const Object page = qpdf_get_page_n(data_.get(), static_cast<std::size_t>(number - 1));
  check();
  return page;
}

PdfDocument::Object PdfDocument::entry(Object dictionary, const char* key) const {
  const Object value = qpdf_oh_get_key_if_dict(data_.get(), dictionary, key);
  check();
  return value;
}

PdfDocument::Object PdfDocument::inherited(Object page, const char* key) const {
  Object value = entry(page, key);
  for (int level = 0; level < most_levels && qpdf_oh_is_null(data_.get(), value) != QPDF_FALSE; ++level) {
    page = entry(page, "/Parent");
    value = entry(page, key);
  }
  return value;
}

void PdfDocument::replace(Object dictionary, const char* key, Object value) const {
  qpdf_oh_replace_key(data_.get(), dictionary, key, value);
  check();
}

std::optional<double> PdfDocument::number(Object object) const {
  if (qpdf_oh_is_number(data_.get(), object) == QPDF_FALSE) return std::nullopt;
  return qpdf_oh_get_numeric_value(data_.get(), object);
}

std::optional<long long> PdfDocument::integer(Object object) const {
  if (qpdf_oh_is_integer(data_.get(), object) == QPDF_FALSE) return std::nullopt;
  return qpdf_oh_get_int_value(data_.get(), object);
}

std::optional<PdfRectangle> PdfDocument::rectangle(Object object) const {
  if (qpdf_oh_is_array(data_.get(), object) == QPDF_FALSE ||
      qpdf_oh_get_array_n_items(data_.get(), object) != 4)
    return std::nullopt;
  std::array<double, 4> corner{};
  for (int i = 0; i < 4; ++i) {
    const auto value = number(qpdf_oh_get_array_item(data_.get(), object, i));
    if (!value || !std::isfinite(*value)) return std::nullopt;
    corner[static_cast<std::size_t>(i)] = *value;
  }
  const auto [left, right] = std::minmax(corner[0], corner[2]);
  const auto [bottom, top] = std::minmax(corner[1], corner[3]);
  if (right - left <= 0 || top - bottom <= 0) return std::nullopt;
  return PdfRectangle{left, bottom, right, top};
}

Bytes PdfDocument::written() const {
  qpdf_init_write_memory(data_.get());
  qpdf_set_stream_data_mode(data_.get(), qpdf_s_preserve);
  qpdf_set_preserve_encryption(data_.get(), QPDF_FALSE);
  qpdf_set_deterministic_ID(data_.get(), QPDF_TRUE);
  qpdf_write(data_.get());
  check();
  const unsigned char* buffer = qpdf_get_buffer(data_.get());
  return {buffer, buffer + qpdf_get_buffer_length(data_.get())};
}

std::vector<std::string> PdfDocument::warnings(std::size_t most) const {
  std::vector<std::string> found;
  while (found.size() < most && qpdf_more_warnings(data_.get()) != QPDF_FALSE)
    found.emplace_back(qpdf_get_error_message_detail(data_.get(), qpdf_next_warning(data_.get())));
  return found;
}

}  // namespace frisket
