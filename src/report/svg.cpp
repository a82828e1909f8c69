#include "report/svg.hpp"

#include <array>
#include <charconv>
#include <cmath>

#include "report/printable.hpp"

namespace frisket {
namespace {

/// Four decimals, whatever the locale: a tenth of a micrometre where lengths are millimetres.
std::string number(double value) {
  const double rounded = std::round(value * 1e4) / 1e4 + 0.0;  // + 0.0 turns -0 into 0
  std::array<char, 64> digits{};
  const auto end = std::to_chars(digits.data(), digits.data() + digits.size(), rounded).ptr;
  return {digits.data(), end};
}

std::string attribute(std::string_view name, std::string_view value) {
  return " " + std::string(name) + "=\"" + std::string(value) + "\"";
}

std::string attribute(std::string_view name, double value) { return attribute(name, number(value)); }

std::string painted(const Stroke& stroke) {
  std::string text = attribute("stroke", stroke.colour) + attribute("stroke-width", stroke.width);
  if (!stroke.dash.empty()) text += attribute("stroke-dasharray", stroke.dash);
  return text;
}

constexpr std::string_view family = "'DejaVu Sans', sans-serif";

std::string view_box(double width, double height) {
  return attribute("viewBox", "0 0 " + number(width) + " " + number(height));
}

std::string placed(const PixelRect& box) {
  return attribute("x", box.x) + attribute("y", box.y) + attribute("width", box.width) +
         attribute("height", box.height);
}

}  // namespace

std::string xml_escaped(std::string_view text) {
  std::string escaped;
  for (const char c : printable(text)) {
    switch (c) {
      case '&':
        escaped += "&amp;";
        break;
      case '<':
        escaped += "&lt;";
        break;
      case '>':
        escaped += "&gt;";
        break;
      case '"':
        escaped += "&quot;";
        break;
      case '\'':
        escaped += "&#39;";
        break;
      default:
        escaped += c;
    }
  }
  return escaped;
}

Svg::Svg(double width, double height) {
  document_ = "<svg xmlns=\"http://www.w3.org/2000/svg\"" + attribute("width", width) +
              attribute("height", height) + view_box(width, height) + attribute("font-family", family) +
              ">\n";
}

Svg Svg::in_millimetres(double width, double height, std::string_view title) {
  Svg svg;
  svg.document_ = "<svg xmlns=\"http://www.w3.org/2000/svg\"" + attribute("width", number(width) + "mm") +
                  attribute("height", number(height) + "mm") + view_box(width, height) +
                  attribute("font-family", family) + ">\n<title>" + xml_escaped(title) + "</title>\n";
  return svg;
}

Svg Svg::inlined(double width, double height, std::string_view attributes) {
  Svg svg;
  svg.group_name_ = "data-layer";
  svg.document_ = "<svg" + view_box(width, height) + attribute("font-family", family) + " " +
                  std::string(attributes) + ">\n";
  return svg;
}

void Svg::picture(const PixelRect& box, std::string_view reference, std::string_view attributes) {
  document_ += "<image" + placed(box) + " preserveAspectRatio=\"none\" " + std::string(attributes) +
               attribute("href", reference) + "/>\n";
}

void Svg::open_group(std::string_view id, double x, double y) {
  document_ += "<g" + attribute(group_name_, id);
  if (x != 0 || y != 0) document_ += attribute("transform", "translate(" + number(x) + " " + number(y) + ")");
  document_ += ">\n";
}

void Svg::open_layer(std::string_view id, std::string_view label) {
  document_ += "<g" + attribute("id", id) + ">\n<title>" + xml_escaped(label) + "</title>\n";
}

void Svg::close_group() { document_ += "</g>\n"; }

void Svg::line(Spot from, Spot to, const Stroke& stroke) {
  document_ += "<line" + attribute("x1", from.x) + attribute("y1", from.y) + attribute("x2", to.x) +
               attribute("y2", to.y) + painted(stroke) + "/>\n";
}

void Svg::box(const PixelRect& box, const Stroke& stroke, double corner_radius) {
  document_ += "<rect" + placed(box) + attribute("fill", "none") + painted(stroke);
  if (corner_radius > 0) document_ += attribute("rx", corner_radius);
  document_ += "/>\n";
}

void Svg::filled_box(const PixelRect& box, std::string_view fill, double opacity, double corner_radius) {
  document_ += "<rect" + placed(box) + attribute("fill", fill);
  if (opacity < 1) document_ += attribute("fill-opacity", opacity);
  if (corner_radius > 0) document_ += attribute("rx", corner_radius);
  document_ += "/>\n";
}

void Svg::polygon(const std::vector<Spot>& corners, std::string_view fill, const Stroke& stroke) {
  document_ += "<polygon points=\"";
  for (const Spot& corner : corners) document_ += number(corner.x) + "," + number(corner.y) + " ";
  document_ +=
      "\"" + attribute("fill", fill) + attribute("stroke-linejoin", "round") + painted(stroke) + "/>\n";
}

void Svg::circle(Spot centre, double radius, std::string_view fill, const Stroke& stroke) {
  document_ += "<circle" + attribute("cx", centre.x) + attribute("cy", centre.y) + attribute("r", radius) +
               attribute("fill", fill) + painted(stroke) + "/>\n";
}

void Svg::text(Spot at, std::string_view text, const Type& type, std::string_view colour,
               std::string_view anchor) {
  document_ += "<text" + attribute("x", at.x) + attribute("y", at.y) + attribute("font-size", type.size) +
               attribute("fill", colour) + attribute("text-anchor", anchor);
  if (type.bold) document_ += attribute("font-weight", "bold");
  document_ += ">" + xml_escaped(text) + "</text>\n";
}

void Svg::turned_text(Spot at, std::string_view words, const Type& type, std::string_view colour) {
  document_ += "<g" +
               attribute("transform", "translate(" + number(at.x) + " " + number(at.y) + ") rotate(-90)") +
               ">\n";
  text({}, words, type, colour, "middle");
  close_group();
}

std::string Svg::content() const { return document_.substr(document_.find(">\n") + 2); }

std::string Svg::finish() { return std::move(document_) + "</svg>\n"; }

}  // namespace frisket
