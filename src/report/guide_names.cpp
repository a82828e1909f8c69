#include "report/guide_names.hpp"

#include <algorithm>

#include "report/overlay_style.hpp"
#include "report/printable.hpp"
#include "report/text_width.hpp"

namespace frisket {
namespace {

using namespace literals;

constexpr Length largest_type = 14_pt;
/// Sources differ on what can be read; below this a name is a smudge (common practice, no source).
constexpr Length smallest_type = 4_pt;
/// Share of a panel, or of its live area, that its name may fill.
constexpr double room = 0.9;
/// In two lines the size stands smaller below the name: baselines from the middle of the panel, down, and the
/// height of both, as shares of the name's type. In one line both are alike.
constexpr double size_share = 0.7, name_baseline = -0.1, size_baseline = 0.95, two_lines = 2.0;
constexpr double lone_baseline = 0.36, one_line = 1.2;

std::string size_text(const Rect& area, Unit unit) {
  const std::string width = to_exact_text(area.width, unit);
  return width.substr(0, width.rfind(' ')) + " x " + to_exact_text(area.height, unit);
}

/// The name of one panel within `area` of it.
class PanelName {
 public:
  PanelName(const Panel& panel, const Rect& area, Unit unit)
      : area_(area), name_(printable(panel.name)), size_(size_text(panel.area, unit)) {}

  std::vector<GuideText> texts() const {
    const Setting best = best_setting();
    if (best.type < smallest_type) return {};
    if (best.words.size() == 1) return {line(best, 0, best.type, lone_baseline)};
    return {line(best, 0, best.type, name_baseline), line(best, 1, best.type * size_share, size_baseline)};
  }

 private:
  struct Setting {
    std::vector<std::string> words;
    bool turned = false;
    Length type;
  };

  /// Upright in two lines where that is about as large as any other way, else turned, else in one line, as in
  /// a narrow strip; the name alone only where name and size cannot be read.
  Setting best_setting() const {
    Setting best;
    for (const auto& words :
         {std::vector{name_, size_}, std::vector{name_ + ", " + size_}, std::vector{name_}}) {
      if (words.size() == 1 && words[0] == name_ && best.type >= smallest_type) break;
      for (const bool turned : {false, true}) {
        const Length type = largest_fitting(words, turned);
        if (type > best.type * 1.25) best = {words, turned, type};
      }
    }
    return best;
  }

  Length largest_fitting(const std::vector<std::string>& words, bool turned) const {
    const Length along = (turned ? area_.height : area_.width) * room;
    const Length across = (turned ? area_.width : area_.height) * room;
    double width = text_width(words[0], {1, false});
    if (words.size() > 1) width = std::max(width, text_width(words[1], {size_share, false}));
    return std::min({largest_type, along / width, across / (words.size() > 1 ? two_lines : one_line)});
  }

  GuideText line(const Setting& setting, std::size_t number, Length type, double baseline) const {
    Point at{area_.x + area_.width / 2.0, area_.y + area_.height / 2.0};
    (setting.turned ? at.x : at.y) += setting.type * baseline;
    return {at, type, setting.words[number], setting.turned};
  }

  Rect area_;
  std::string name_, size_;
};

/// In the live area where there is one that takes a name, so that no line runs through it.
std::vector<GuideText> texts_of(const Job& job, const SideLayout& layout, const Panel& panel) {
  const Rect live = live_area(job, layout, panel);
  auto texts = live.empty() ? std::vector<GuideText>{} : PanelName(panel, live, job.unit).texts();
  return texts.empty() ? PanelName(panel, panel.area, job.unit).texts() : texts;
}

}  // namespace

GuideLayer panel_names(const Job& job, const SideLayout& layout) {
  GuideLayer names{"panel-names", "Panel names", palette::quiet, {}, "", {}, {}, {}};
  for (const Panel& panel : layout.panels)
    for (GuideText& text : texts_of(job, layout, panel)) names.texts.push_back(std::move(text));
  return names;
}

}  // namespace frisket
