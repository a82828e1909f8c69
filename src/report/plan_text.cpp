#include <algorithm>
#include <array>
#include <cstdio>
#include <vector>

#include "frisket/report.hpp"
#include "report/plan.hpp"
#include "report/printable.hpp"
#include "report/text_table.hpp"

namespace frisket {
namespace {

/// The bare number, in full: "3.28125".
std::string number_text(Length length, Unit unit) {
  const std::string text = to_exact_text(length, unit);
  return text.substr(0, text.rfind(' '));
}

std::string size_text(const Size& size, Unit unit) {
  return number_text(size.width, unit) + " x " + to_exact_text(size.height, unit);
}

std::string edges_text(const Edges& edges, Unit unit) {
  if (edges == Edges::all(edges.top)) return to_exact_text(edges.top, unit) + " on every edge";
  std::string text;
  for (const Edge edge : all_edges) {
    if (!text.empty()) text += ", ";
    text += std::string(edge_name(edge)) + " " + to_exact_text(edges.at(edge), unit);
  }
  return text;
}

std::string line(std::string_view label, const std::string& value) {
  std::string text(label);
  text.resize(std::max<std::size_t>(text.size() + 1, 11), ' ');
  return text + value + "\n";
}

/// What a printer's sheet in inches would say: "3 9/32"; empty for other units, and where it is not exact.
std::string fraction_text(Length length, Unit unit) {
  return unit == Unit::inch ? to_inch_fraction(length).value_or("") : "";
}

std::string size_fraction_text(const Size& size, Unit unit) {
  const std::string width = fraction_text(size.width, unit), height = fraction_text(size.height, unit);
  return width.empty() || height.empty() ? "" : width + " x " + height;
}

/// The tables of one side of the job.
class SideText {
 public:
  SideText(const Job& job, const SideLayout& side) : job_(job), side_(side) {
    for (const Panel& panel : side.panels)
      if (panel.name != turn_in_name) panels_.push_back(&panel);
  }

  std::string text(const std::string& heading) const {
    const std::string unit(unit_name(job_.unit));
    std::string text = "\n" + heading + " (" + unit + ", from the left and top trim)\n" + panel_table();
    if (panels_.size() < side_.panels.size()) text += turn_in_note();
    if (!side_.folds.empty() || !side_.folds_y.empty()) text += "\n" + fold_table();
    return text + "\n" + live_table();
  }

 private:
  std::string number(Length length) const { return number_text(length, job_.unit); }

  std::string panel_table() const {
    const bool in_rows = !side_.folds_y.empty();
    std::vector<TableRow> rows{{"panel", "left", in_rows ? "top" : "", "width", "height", "in fractions"}};
    for (const Panel* panel : panels_) {
      const Rect& area = panel->area;
      rows.push_back({printable(panel->name), number(area.x), in_rows ? number(area.y) : "",
                      number(area.width), number(area.height),
                      size_fraction_text({area.width, area.height}, job_.unit)});
    }
    return text_table(rows);
  }

  std::string turn_in_note() const {
    return "  round it, a turn-in of " + to_exact_text(side_.panels.front().area.width, job_.unit) +
           " on every edge\n";
  }

  std::string fold_table() const {
    std::vector<TableRow> rows{{"fold", "at", "in fractions", "text clear by"}};
    int number = 0;
    const auto add = [&](Length fold, const std::string& from) {
      rows.push_back({std::to_string(++number) + ", from the " + from, this->number(fold),
                      fraction_text(fold, job_.unit), this->number(clear_of_fold(job_, side_, number))});
    };
    for (const Length fold : side_.folds) add(fold, "left");
    for (const Length fold : side_.folds_y) add(fold, "top");
    return text_table(rows);
  }

  std::string live_table() const {
    std::vector<TableRow> rows{{"safe area", "left", "top", "width", "height"}};
    for (const Panel* panel : panels_) {
      const Rect live = live_area(job_, side_, *panel);
      if (live.empty())
        rows.push_back({printable(panel->name), "no room", "", "", ""});
      else
        rows.push_back({printable(panel->name), number(live.x), number(live.y), number(live.width),
                        number(live.height)});
    }
    return text_table(rows);
  }

  const Job& job_;
  const SideLayout& side_;
  std::vector<const Panel*> panels_;
};

std::string page_text(const Job& job, double dpi) {
  const Rect canvas = grown({{}, {}, job.trim.width, job.trim.height}, job.bleed);
  const PixelSize pixels = canvas_pixels(job, dpi);
  std::array<char, 96> text{};
  std::snprintf(text.data(), text.size(), ", %d x %d pixels at %g dpi", pixels.width, pixels.height, dpi);
  return size_text({canvas.width, canvas.height}, job.unit) + text.data();
}

/// Sheets of four pages each, one inside the other.
std::string creep_text(const Job& job, double dpi) {
  const int sheets = static_cast<int>(job.creep.size()), last = 4 * sheets;
  std::vector<TableRow> rows{{"sheet", "pages", "pushed out", "pixels"}};
  for (int sheet = 0; sheet < sheets; ++sheet) {
    const Length pushed = job.creep[static_cast<std::size_t>(sheet)];
    const std::string pages = std::to_string(2 * sheet + 1) + ", " + std::to_string(2 * sheet + 2) + ", " +
                              std::to_string(last - 2 * sheet - 1) + ", " + std::to_string(last - 2 * sheet);
    std::array<char, 32> pixels{};
    std::snprintf(pixels.data(), pixels.size(), "%.1f", pushed.pixels(dpi));
    rows.push_back({std::to_string(sheet + 1), pages, number_text(pushed, job.unit), pixels.data()});
  }
  return "\ncreep (" + std::string(unit_name(job.unit)) +
         "): how far the fore-edge of each sheet is pushed out before the cut,\nthe outermost sheet first\n" +
         text_table(rows);
}

}  // namespace

std::string plan_text(const Job& job, double dpi) {
  std::string text;
  if (!job.name.empty()) text += printable(job.name) + "\n\n";
  text += line("flat", size_text(job.trim, job.unit));
  text += line("finished", size_text(job.finished, job.unit));
  if (job.spine) text += line("spine", to_exact_text(*job.spine, job.unit));
  text += line("bleed", edges_text(job.bleed, job.unit));
  text += line("safe zone", edges_text(job.safe, job.unit));
  text += line("page", page_text(job, dpi) + (job.bleed == Edges{} ? "" : ", with the bleed"));
  if (job.folded)
    text +=
        SideText(job, job.outside).text("outside as seen") + SideText(job, job.inside).text("inside as seen");
  else
    text += SideText(job, job.outside).text("page");
  if (!job.creep.empty()) text += creep_text(job, dpi);
  return text;
}

}  // namespace frisket
