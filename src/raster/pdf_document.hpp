#pragma once

#include <qpdf/qpdf-c.h>

#include <memory>
#include <optional>
#include <string>
#include <type_traits>
#include <vector>

#include "raster/file_bytes.hpp"

namespace frisket {

/// A rectangle in user space, its corners in order.
struct PdfRectangle {
  double left, bottom, right, top;

  double width() const { return right - left; }
  double height() const { return top - bottom; }
};

/// A PDF in memory, read by libqpdf through its C interface: its C++ headers are not read by every compiler
/// of C++20 (Clang 14 refuses JSON.hh). Pages count from 1. Objects are handles of the document, and what is
/// asked of one that is of another kind is unknown. All members throw Error where the document is locked or
/// damaged beyond repair.
class PdfDocument {
 public:
  using Object = qpdf_oh;

  /// Nothing but `bytes` is read; they have to outlive the document.
  explicit PdfDocument(const Bytes& bytes);

  int page_count() const;
  Object page(int number) const;
  Object entry(Object dictionary, const char* key) const;
  /// The page's own entry, or that of the nearest node above it in the page tree.
  Object inherited(Object page, const char* key) const;
  void replace(Object dictionary, const char* key, Object value) const;

  std::optional<double> number(Object object) const;
  std::optional<long long> integer(Object object) const;
  /// Four finite numbers with an area between them.
  std::optional<PdfRectangle> rectangle(Object object) const;

  /// The document as it is now, streams as they were, without encryption; the same bytes every time.
  Bytes written() const;
  /// What libqpdf had to mend, at most so many of its sentences.
  std::vector<std::string> warnings(std::size_t most) const;

 private:
  struct CleanUp {
    void operator()(qpdf_data data) const;
  };

  /// Throws where the last call went wrong.
  void check() const;

  std::unique_ptr<std::remove_pointer_t<qpdf_data>, CleanUp> data_;
};

}  // namespace frisket
