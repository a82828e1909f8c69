#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "frisket/geometry.hpp"
#include "report/text_width.hpp"

namespace frisket {

/// A place in overlay pixels.
struct Spot {
  double x = 0, y = 0;
};

/// How a line is drawn: `dash` as in SVG's stroke-dasharray, empty for a solid line.
struct Stroke {
  std::string_view colour;
  double width = 1;
  std::string_view dash;
};

/// Writes one SVG 1.1 document, element by element. All text from outside is escaped here and nowhere else.
class Svg {
 public:
  /// A document of `width` x `height` overlay pixels.
  Svg(double width, double height);
  /// A document of `width` x `height` millimetres at full size; all its lengths are millimetres, all its
  /// places counted from its top left corner.
  static Svg in_millimetres(double width, double height, std::string_view title);

  /// A drawing of `width` x `height` units to stand within an HTML document, with `attributes` (already
  /// escaped) on its root. Its groups carry their name as data-layer: an id may stand only once in a
  /// document.
  static Svg inlined(double width, double height, std::string_view attributes);

  /// Opens a group called `id`, moved by `x` and `y`.
  void open_group(std::string_view id, double x = 0, double y = 0);
  /// Opens a group with an id and a title, which drawing programs show as a layer or a named group.
  void open_layer(std::string_view id, std::string_view label);
  /// Adds a piece of SVG that was made by another Svg, or is fixed.
  void add(std::string_view piece) { document_ += piece; }
  /// A picture laid into `box`, given as a data URI or a reference.
  void picture(const PixelRect& box, std::string_view reference, std::string_view attributes = "");
  void close_group();
  void line(Spot from, Spot to, const Stroke& stroke);
  void box(const PixelRect& box, const Stroke& stroke, double corner_radius = 0);
  void filled_box(const PixelRect& box, std::string_view fill, double opacity = 1, double corner_radius = 0);
  void polygon(const std::vector<Spot>& corners, std::string_view fill, const Stroke& stroke);
  void circle(Spot centre, double radius, std::string_view fill, const Stroke& stroke);
  /// `anchor` is SVG's text-anchor: "start", "middle" or "end"; `at` lies on the baseline.
  void text(Spot at, std::string_view text, const Type& type, std::string_view colour,
            std::string_view anchor = "start");
  /// Text in the middle over `at`, read upwards.
  void turned_text(Spot at, std::string_view text, const Type& type, std::string_view colour);
  /// The whole document; nothing may be added after it.
  std::string finish();
  /// What was drawn so far, without the opening and the end of the document.
  std::string content() const;

 private:
  Svg() = default;

  std::string document_;
  std::string_view group_name_ = "id";  ///< the attribute that names a group
};

/// Text made safe for the content and the attributes of XML: see printable(), then & < > " ' as entities.
std::string xml_escaped(std::string_view text);

}  // namespace frisket
