#include "report/overlay_strip.hpp"

#include <algorithm>
#include <array>
#include <cstdio>

#include "report/overlay_style.hpp"
#include "report/printable.hpp"
#include "report/verdict.hpp"

namespace frisket {
namespace {

constexpr double margin = 18;            ///< overlay pixels left and right of the strip's text
constexpr double row = 20;               ///< from baseline to baseline
constexpr double sample = 34;            ///< length of a line sample in the key
constexpr double least_width = 460;      ///< below this a strip is hard to read
constexpr std::size_t most_listed = 12;  ///< findings without a place that are told in full
constexpr Type headline_type{17, true};
constexpr Type text_type{13, false};
constexpr Type small_type{12, false};

/// Draws rows of text and samples from the top down.
class Strip {
 public:
  Strip(Svg& svg, double top, double width) : svg_(svg), top_(top), y_(top + 30), width_(width) {}

  double room() const { return width_ - 2 * margin; }

  void verdict(const VerdictWords& words) {
    svg_.text({margin, y_}, words.headline, headline_type, palette::black);
    const double used = text_width(words.headline, headline_type) + 16;
    if (used + text_width(words.detail, text_type) <= room()) {
      svg_.text({margin + used, y_}, words.detail, text_type, palette::black);
      y_ += row + 2;
    } else {
      y_ += row + 2;
      paragraph(words.detail, margin, text_type, palette::black);
    }
  }

  void paragraph(std::string_view text, double left, const Type& type, std::string_view colour) {
    for (const std::string& line : wrapped(text, type, width_ - margin - left)) {
      svg_.text({left, y_}, line, type, colour);
      y_ += row;
    }
  }

  void finding(const Mark& mark, const std::string& message) {
    const double width = badge_width(mark.number);
    y_ += 4;
    draw_badge(svg_, {margin + width / 2, y_ - 5}, mark.number, mark.severity);
    paragraph(message, margin + width + 10, text_type, palette::black);
  }

  /// Starts the key below a hairline.
  void open_key() {
    y_ += 6;
    svg_.line({margin, y_ - 14}, {width_ - margin, y_ - 14}, {palette::quiet, 0.5, ""});
    y_ += 6;
    x_ = margin;
  }

  void key_line(std::string_view name, const Stroke& stroke) {
    make_room(sample, name);
    svg_.line({x_, y_ - 4}, {x_ + sample, y_ - 4}, stroke);
    key_name(sample, name);
  }

  void key_badge(std::string_view name, Severity severity) {
    const double width = badge_width("");
    make_room(width, name);
    draw_badge(svg_, {x_ + width / 2, y_ - 4}, "", severity);
    key_name(width, name);
  }

  /// Height of the whole strip; nothing may be drawn after it.
  double height() const { return y_ + 14 - top_; }

 private:
  void make_room(double sample_width, std::string_view name) {
    if (x_ + sample_width + 8 + text_width(name, small_type) <= width_ - margin) return;
    x_ = margin;
    y_ += row + 6;
  }

  void key_name(double sample_width, std::string_view name) {
    svg_.text({x_ + sample_width + 8, y_}, name, small_type, palette::black);
    x_ += sample_width + 8 + text_width(name, small_type) + 22;
  }

  Svg& svg_;
  double top_, y_, width_;
  double x_ = margin;
};

/// "outside.png  ·  outside  ·  11.0 in x 8.5 in  ·  300 dpi", the file name shortened to fit.
std::string page_facts(const Report& report, double room) {
  std::string facts;
  if (report.page.number > 1) facts += "  ·  page " + std::to_string(report.page.number);
  if (report.page.side) facts += "  ·  " + std::string(side_name(*report.page.side));
  const Unit unit = report.job.unit;
  facts += "  ·  " + to_text(report.job.trim.width, unit) + " x " + to_text(report.job.trim.height, unit);
  std::array<char, 32> dpi{};
  std::snprintf(dpi.data(), dpi.size(), "  ·  %.4g dpi", report.dpi);
  facts += dpi.data();
  return shortened(printable(report.page.file), small_type,
                   std::max(60.0, room - text_width(facts, small_type))) +
         facts;
}

void list_placeless(Strip& strip, const Report& report, const std::vector<Mark>& marks) {
  std::size_t listed = 0, left_out = 0;
  for (std::size_t i = 0; i < marks.size(); ++i) {
    if (marks[i].tag) continue;
    if (listed < most_listed)
      strip.finding(marks[i], printable(report.findings[i].message)), ++listed;
    else
      ++left_out;
  }
  if (left_out > 0)
    strip.paragraph(
        "and " + std::to_string(left_out) + " more without room on the page: see the list of findings",
        margin, small_type, palette::quiet);
}

void draw_key(Strip& strip, const Report& report) {
  strip.open_key();
  if (report.trim_px.width > 0) {
    const SideLayout& layout = report.job.layout(report.page.side);
    strip.key_line("trim", trim_stroke);
    if (report.job.bleed != Edges{}) strip.key_line("bleed", bleed_stroke);
    if (report.job.safe != Edges{}) strip.key_line("safe zone", safe_stroke);
    if (!layout.folds.empty() || !layout.folds_y.empty()) strip.key_line("fold", fold_stroke);
  }
  for (const auto& [severity, name] :
       {std::pair(Severity::fix, "fix: it would be seen in the finished piece"),
        {Severity::review, "review: a person should decide"},
        {Severity::note, "note: worth knowing"}})
    if (count_findings(report, severity) > 0) strip.key_badge(name, severity);
}

double draw_rows(Svg& svg, const Report& report, const std::vector<Mark>& marks, double top, double width) {
  Strip strip(svg, top, width);
  strip.verdict(verdict_words(report));
  strip.paragraph(page_facts(report, strip.room()), margin, small_type, palette::quiet);
  list_placeless(strip, report, marks);
  draw_key(strip, report);
  return strip.height();
}

}  // namespace

double strip_width(double page_width) { return std::max(page_width, least_width); }

double draw_strip(Svg& svg, const Report& report, const std::vector<Mark>& marks, double top, double width) {
  Svg trial(width, 1);  // laid out once unseen: the ground lies under the rows and needs their height
  const double height = draw_rows(trial, report, marks, top, width);
  svg.filled_box({0, top, width, height}, palette::paper);
  svg.line({0, top + 0.5}, {width, top + 0.5}, {palette::quiet, 1, ""});
  draw_rows(svg, report, marks, top, width);
  return height;
}

}  // namespace frisket
