#include "report/html_panels.hpp"

#include <algorithm>
#include <array>
#include <cstdio>
#include <numeric>
#include <vector>

#include "report/html_pieces.hpp"
#include "report/html_text.hpp"

namespace frisket {
namespace {

/// What is read at which opening. Between the covers: first what shows when the cover is lifted, panel by
/// panel, then the inside, then what is still on the back of it.
struct Reading {
  std::string_view start;
  int rank;
};
constexpr std::array readings{Reading{"front cover, left half", 0},
                              Reading{"front cover, right half", 1},
                              Reading{"front cover", 0},
                              Reading{"front flap", 2},
                              Reading{"front", 1},
                              Reading{"tucked panel", 10},
                              Reading{"first spread, right", 21},
                              Reading{"first spread", 20},
                              Reading{"inside", 30},
                              Reading{"spine", 35},
                              Reading{"outside", 40},
                              Reading{"back flap", 50},
                              Reading{"back cover", 60},
                              Reading{"back", 55}};
constexpr int read_in_between = 30;

std::string view_box(const PixelRect& area) {
  std::array<char, 160> text{};
  std::snprintf(text.data(), text.size(), "viewBox=\"%.2f %.2f %.2f %.2f\"", area.x, area.y, area.width,
                area.height);
  return text.data();
}

std::string findings_on(const Report& report, std::size_t panel) {
  const auto found = std::ranges::count_if(report.findings, [&](const Finding& finding) {
    return !finding.accepted && finding.panel && *finding.panel == static_cast<int>(panel) + 1;
  });
  return found == 0 ? "" : found == 1 ? ": 1 finding" : ": " + std::to_string(found) + " findings";
}

std::string panel_item(const Report& report, const Panel& panel, std::size_t index, double scale,
                       const std::string& anchor) {
  const PixelRect px = report.to_pixels(panel.area);
  const PixelRect area{px.x * scale, px.y * scale, px.width * scale, px.height * scale};
  return "<li data-rank=\"" + std::to_string(reading_rank(panel.name)) + "\"><figure><svg " + view_box(area) +
         " role=\"img\"" + html_attribute("aria-label", "The panel " + panel.name + ", trimmed") +
         "><use href=\"#" + anchor + "-picture\"/></svg>" +
         html_element("figcaption", panel.name + findings_on(report, index)) + "</figure></li>\n";
}

std::string section(std::string_view title, const std::string& panels) {
  return "<section class=\"panels\">\n" + html_element("h3", title) + "<ol class=\"strip\">\n" + panels +
         "</ol>\n</section>\n";
}

}  // namespace

int reading_rank(std::string_view name) {
  const auto found =
      std::ranges::find_if(readings, [&](const Reading& reading) { return name.starts_with(reading.start); });
  if (found == readings.end()) return read_in_between;
  // "tucked panel 2" lies deeper in the roll than "tucked panel 1".
  const bool numbered = found->start == "tucked panel" && name.back() >= '1' && name.back() <= '9';
  return found->rank + (numbered ? name.back() - '0' : 0);
}

std::vector<std::size_t> reading_order(const SideLayout& side) {
  std::vector<std::size_t> order(side.panels.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::erase_if(order, [&](std::size_t i) { return side.panels[i].name == turn_in_name; });
  std::ranges::stable_sort(order, {}, [&](std::size_t i) { return reading_rank(side.panels[i].name); });
  return order;
}

std::string html_panels(const Report& report, double scale, const std::string& anchor) {
  const SideLayout& side = report.job.layout(report.page.side);
  if (!report.job.folded || report.trim_px.width <= 0 || side.panels.size() < 2) return "";
  std::string panels;
  for (const std::size_t i : reading_order(side))
    panels += html_piece("panel", panel_item(report, side.panels[i], i, scale, anchor));
  return html_piece("panels", section("Panel by panel, as it is read", panels));
}

std::string html_folded_piece(const std::string& outside_page, const std::string& inside_page) {
  std::vector<std::string> panels = pieces_of(outside_page, "panel");
  const std::vector<std::string> inside = pieces_of(inside_page, "panel");
  if (panels.empty() || inside.empty()) return "";
  panels.insert(panels.end(), inside.begin(), inside.end());
  std::ranges::stable_sort(
      panels, {}, [](const std::string& panel) { return std::stoi(attribute_of(panel, "data-rank")); });
  std::string items;
  for (const std::string& panel : panels) items += panel;
  return "<section class=\"folded\" aria-label=\"The folded piece\">\n<h2>The folded piece</h2>\n" +
         section("Panel by panel, as it is read", items) + "</section>\n";
}

}  // namespace frisket
