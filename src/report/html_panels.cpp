#include "report/html_panels.hpp"

#include <algorithm>
#include <array>
#include <cstdio>
#include <numeric>
#include <vector>

#include "report/html_text.hpp"

namespace frisket {
namespace {

/// Where a panel comes when the piece is read: by its name, which says what the fold makes of it.
int reading_rank(std::string_view name) {
  if (name.starts_with("front cover")) return name.ends_with("right half") ? 1 : 0;
  if (name.starts_with("front")) return 0;
  if (name.starts_with("back")) return 9;
  if (name.starts_with("spine")) return 5;
  if (name.starts_with("first spread")) return name.ends_with("right") || name.ends_with("bottom") ? 4 : 3;
  return 4;
}

std::string view_box(const PixelRect& area) {
  std::array<char, 160> text{};
  std::snprintf(text.data(), text.size(), "viewBox=\"%.2f %.2f %.2f %.2f\"", area.x, area.y, area.width,
                area.height);
  return text.data();
}

}  // namespace

std::vector<std::size_t> reading_order(const SideLayout& side) {
  std::vector<std::size_t> order(side.panels.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::ranges::stable_sort(order, {}, [&](std::size_t i) { return reading_rank(side.panels[i].name); });
  return order;
}

std::string html_panels(const Report& report, double scale, const std::string& anchor) {
  const SideLayout& side = report.job.layout(report.page.side);
  if (!report.job.folded || report.trim_px.width <= 0 || side.panels.size() < 2) return "";
  std::string html =
      "<section class=\"panels\">\n<h3>Panel by panel, as it is read</h3>\n<ol class=\"strip\">\n";
  for (const std::size_t i : reading_order(side)) {
    const Panel& panel = side.panels[i];
    const PixelRect px = report.to_pixels(panel.area);
    const PixelRect area{px.x * scale, px.y * scale, px.width * scale, px.height * scale};
    const auto found = std::ranges::count_if(report.findings, [&](const Finding& finding) {
      return finding.panel && *finding.panel == static_cast<int>(i) + 1;
    });
    const std::string told = found == 0   ? ""
                             : found == 1 ? ": 1 finding"
                                          : ": " + std::to_string(found) + " findings";
    html += "<li><figure><svg " + view_box(area) + " role=\"img\"" +
            html_attribute("aria-label", "The panel " + panel.name + ", trimmed") + "><use href=\"#" +
            anchor + "-picture\"/></svg>" + html_element("figcaption", panel.name + told) +
            "</figure></li>\n";
  }
  return html + "</ol>\n</section>\n";
}

}  // namespace frisket
