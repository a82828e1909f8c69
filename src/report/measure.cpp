#include "report/measure.hpp"

#include <array>
#include <cstdio>

namespace frisket {
namespace {

Measure edge_measure(const Finding& finding, const Size& trim) {
  const Edge edge = *finding.edge;
  const bool far = edge == Edge::right || edge == Edge::bottom;
  const Length reference = !far ? Length() : edge == Edge::right ? trim.width : trim.height;
  // Bleed is measured outwards from the trim, everything else inwards.
  const bool outwards = finding.check == "bleed";
  const Length distance = *finding.measured;
  return {is_vertical(edge), reference, far != outwards ? reference - distance : reference + distance};
}

std::optional<Measure> fold_measure(const Finding& finding, const SideLayout& layout) {
  const auto index = static_cast<std::size_t>(*finding.fold - 1);
  const bool vertical = index < layout.folds.size();
  if (!vertical && index - layout.folds.size() >= layout.folds_y.size()) return std::nullopt;
  const Length fold = vertical ? layout.folds[index] : layout.folds_y[index - layout.folds.size()];
  const Rect& box = finding.box;
  const Length middle = vertical ? box.x + box.width / 2 : box.y + box.height / 2;
  const Length distance = abs(*finding.measured);
  return Measure{vertical, fold, middle < fold ? fold - distance : fold + distance};
}

}  // namespace

std::optional<Measure> measure_of(const Finding& finding, const Report& report) {
  if (!finding.measured) return std::nullopt;
  if (finding.fold) return fold_measure(finding, report.job.layout(report.page.side));
  if (finding.edge) return edge_measure(finding, report.job.trim);
  return std::nullopt;
}

std::string measured_text(const Finding& finding, Unit unit) {
  if (finding.measured_ppi) {
    std::array<char, 32> text{};
    std::snprintf(text.data(), text.size(), "%.0f ppi", *finding.measured_ppi);
    return text.data();
  }
  if (!finding.measured) return "";
  // A dimension on a drawing has no sign: its arrows show which way it runs.
  std::string text = to_text(abs(*finding.measured), unit);
  const bool nothing = text == to_text(Length(), unit);
  if (nothing && finding.fold) return "on the fold";
  if (nothing && finding.edge) return "at the trim";
  return text;
}

}  // namespace frisket
