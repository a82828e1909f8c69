#include "report/pdf_content.hpp"

#include <array>
#include <charconv>
#include <cmath>

namespace frisket {
namespace {

// Advance widths of U+0020 to U+007E in Helvetica, thousandths of the type size: as in the metrics that are
// published for the standard fonts of PDF (the file for Nimbus Sans, which has the same, in
// fonts-urw-base35).
constexpr std::array<int, 95> helvetica_widths{
    278, 278, 355, 556, 556, 889, 667, 222, 333, 333, 389, 584, 278, 333,  278, 278, 556, 556, 556,
    556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667,
    611, 778, 722, 278, 500, 667, 556, 833, 722, 778, 667, 778, 722, 667,  611, 722, 667, 944, 667,
    667, 611, 278, 278, 278, 469, 556, 222, 556, 556, 500, 556, 556, 278,  556, 556, 222, 222, 500,
    222, 833, 556, 556, 556, 556, 333, 500, 278, 556, 500, 722, 500, 500,  500, 334, 260, 334, 584};

/// frisket's own names of panels are ASCII; of others what the font's plain encoding lacks is shown as '?'.
char in_font(char c) { return c >= ' ' && c <= '~' ? c : '?'; }

Length set_width(const GuideText& text) {
  int thousandths = 0;
  for (const char c : text.words) thousandths += helvetica_widths[static_cast<std::size_t>(in_font(c) - ' ')];
  return text.size * (thousandths / 1000.0);
}

std::string mm(std::initializer_list<Length> lengths) {
  std::string text;
  for (const Length length : lengths) text += pdf_number(length.mm()) + " ";
  return text;
}

/// "#RRGGBB" as three shares of 1.
std::string rgb(std::string_view colour) {
  std::string text;
  for (std::size_t at = 1; at < 7; at += 2) {
    int level = 0;
    std::from_chars(colour.data() + at, colour.data() + at + 2, level, 16);
    text += pdf_number(level / 255.0) + " ";
  }
  return text;
}

std::string literal(std::string_view words) {
  std::string text = "(";
  for (const char c : words) {
    if (c == '(' || c == ')' || c == '\\') text += '\\';
    text += in_font(c);
  }
  return text + ")";
}

/// y runs down on the guide's canvas and is turned over for the page; the letters are turned back.
std::string drawn(const GuideText& text) {
  const Length half = set_width(text) / 2.0;
  const std::string matrix = text.turned ? "0 -1 -1 0 " + mm({text.at.x, text.at.y + half})
                                         : "1 0 0 -1 " + mm({text.at.x - half, text.at.y});
  return "BT /F1 " + mm({text.size}) + "Tf " + matrix + "Tm " + literal(text.words) + " Tj ET\n";
}

std::string drawn(const GuideLayer& layer) {
  std::string text = "/OC /" + layer.id + " BDC\n";
  text += rgb(layer.colour) + "RG " + rgb(layer.colour) + "rg " + mm({layer.width}) + "w [" + layer.dash +
          "] 0 d\n";
  for (const Rect& box : layer.boxes) text += mm({box.x, box.y, box.width, box.height}) + "re S\n";
  for (const GuideLine& line : layer.lines)
    text += mm({line.from.x, line.from.y}) + "m " + mm({line.to.x, line.to.y}) + "l S\n";
  for (const GuideText& words : layer.texts) text += drawn(words);
  return text + "EMC\n";
}

}  // namespace

std::string pdf_number(double value, int decimals) {
  const double factor = std::pow(10.0, decimals);
  const double rounded = std::round(value * factor) / factor + 0.0;  // + 0.0 turns -0 into 0
  std::array<char, 400> digits{};
  const auto end =
      std::to_chars(digits.data(), digits.data() + digits.size(), rounded, std::chars_format::fixed).ptr;
  return {digits.data(), end};
}

std::string pdf_content(const GuideDrawing& guide, double points) {
  const std::string scale = pdf_number(points, 9);  // exact over ten metres
  std::string text =
      "q " + scale + " 0 0 -" + scale + " 0 " + pdf_number(guide.canvas.height.mm() * points) + " cm\n";
  for (const GuideLayer& layer : guide.layers) text += drawn(layer);
  return text + "Q\n";
}

}  // namespace frisket
