#include <algorithm>
#include <array>
#include <cstdio>
#include <vector>

#include "frisket/report.hpp"
#include "report/plan.hpp"
#include "report/printable.hpp"

namespace frisket {
namespace {

/// Enough decimals to draw by: a ten-thousandth of an inch, a hundredth of a point, a micrometre.
int drawing_decimals(Unit unit) {
  switch (unit) {
    case Unit::inch:
    case Unit::centimetre:
      return 4;
    case Unit::millimetre:
      return 3;
    case Unit::point:
      return 2;
  }
  return 3;
}

/// The bare number in `unit`, without trailing zeros: "3.6875".
std::string number_text(Length length, Unit unit) {
  std::array<char, 64> digits{};
  std::snprintf(digits.data(), digits.size(), "%.*f", drawing_decimals(unit), in_unit(length, unit));
  std::string text(digits.data());
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text == "-0" ? "0" : text;
}

std::string with_unit(Length length, Unit unit) {
  return number_text(length, unit) + " " + std::string(unit_name(unit));
}

std::string size_text(const Size& size, Unit unit) {
  return number_text(size.width, unit) + " x " + with_unit(size.height, unit);
}

std::string edges_text(const Edges& edges, Unit unit) {
  if (edges == Edges::all(edges.top)) return with_unit(edges.top, unit) + " on every edge";
  std::string text;
  for (const Edge edge : all_edges) {
    if (!text.empty()) text += ", ";
    text += std::string(edge_name(edge)) + " " + with_unit(edges.at(edge), unit);
  }
  return text;
}

std::string positions_text(const std::vector<Length>& positions, Unit unit) {
  std::string text;
  for (const Length position : positions) {
    if (!text.empty()) text += ", ";
    text += number_text(position, unit);
  }
  return text + " " + std::string(unit_name(unit));
}

std::string line(std::string_view label, const std::string& value) {
  std::string text(label);
  text.resize(std::max<std::size_t>(text.size() + 1, 11), ' ');
  return text + value + "\n";
}

using Row = std::vector<std::string>;

/// Rows with their columns aligned: the first to the left, numbers to the right.
std::string table_text(const std::vector<Row>& rows) {
  std::vector<std::size_t> widths(rows.front().size(), 0);
  for (const Row& row : rows)
    for (std::size_t i = 0; i < row.size(); ++i) widths[i] = std::max(widths[i], row[i].size());
  std::string text;
  for (const Row& row : rows) {
    text += "  " + row[0] + std::string(widths[0] - row[0].size(), ' ');
    for (std::size_t i = 1; i < row.size(); ++i)
      text += std::string(widths[i] - row[i].size() + 2, ' ') + row[i];
    text += "\n";
  }
  return text;
}

std::string side_text(std::string_view heading, const SideLayout& side, Unit unit) {
  std::vector<Row> rows{{"panel", "from left", "from top", "width", "height"}};
  for (const Panel& panel : side.panels)
    rows.push_back({printable(panel.name), number_text(panel.area.x, unit), number_text(panel.area.y, unit),
                    number_text(panel.area.width, unit), number_text(panel.area.height, unit)});
  std::string text = "\n" + std::string(heading) + " (" + std::string(unit_name(unit)) + ")\n";
  text += table_text(rows);
  if (!side.folds.empty()) text += "  folds from the left trim: " + positions_text(side.folds, unit) + "\n";
  if (!side.folds_y.empty())
    text += "  folds from the top trim: " + positions_text(side.folds_y, unit) + "\n";
  return text;
}

std::string pixels_text(const Job& job, double dpi) {
  const PixelSize pixels = canvas_pixels(job, dpi);
  std::array<char, 96> text{};
  std::snprintf(text.data(), text.size(), "%d x %d at %g dpi, with the bleed", pixels.width, pixels.height,
                dpi);
  return text.data();
}

}  // namespace

std::string plan_text(const Job& job, double dpi) {
  std::string text;
  if (!job.name.empty()) text += printable(job.name) + "\n\n";
  text += line("flat", size_text(job.trim, job.unit));
  text += line("finished", size_text(job.finished, job.unit));
  if (job.spine) text += line("spine", with_unit(*job.spine, job.unit));
  text += line("bleed", edges_text(job.bleed, job.unit));
  text += line("safe zone", edges_text(job.safe, job.unit));
  text += line("pixels", pixels_text(job, dpi));
  if (!job.folded) return text + side_text("page", job.outside, job.unit);
  return text + side_text("outside as seen", job.outside, job.unit) +
         side_text("inside as seen", job.inside, job.unit);
}

}  // namespace frisket
