#include "report/html_page.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <functional>
#include <numeric>

#include "frisket/report.hpp"
#include "page/placing/cut_out.hpp"
#include "report/closeup.hpp"
#include "report/html_panels.hpp"
#include "report/html_text.hpp"
#include "report/overlay_marks.hpp"
#include "report/overlay_style.hpp"
#include "report/page_picture.hpp"
#include "report/svg.hpp"
#include "report/verdict.hpp"

namespace frisket {
namespace {

constexpr int drawn_px = 1000;    ///< longer side of the page in the drawing's units
constexpr int picture_px = 2200;  ///< and of the picture under it
constexpr std::size_t picture_bytes = 450'000, closeups_bytes = 200'000, closeup_bytes = 70'000;
/// All of a page stays below a megabyte: with more findings than that takes, later ones have no close-up, and
/// the picture is compressed harder.
constexpr std::size_t page_bytes = 900'000, told_bytes = 420'000, least_picture_bytes = 100'000;
constexpr std::size_t finding_bytes = 1'200;  ///< what one takes in the list, without its close-up
constexpr int card_px = 260, closeup_px = 860;
constexpr std::size_t card_bytes = 24'000;

/// Lines of the job with their names, as the overlay draws them.
struct Layer {
  std::string_view name, title;
  Stroke stroke;
};
constexpr std::array<Layer, 5> layers{{{"trim", "Trim", trim_stroke},
                                       {"bleed", "Bleed", bleed_stroke},
                                       {"safe-zone", "Safe zone", safe_stroke},
                                       {"folds", "Folds", fold_stroke},
                                       {"findings", "Findings", {palette::vermillion, 2.4, ""}}}};

/// The same page has the same anchor in every report, and no two pages of one run share one: FNV-1a (Fowler,
/// Noll, Vo; draft-eastlake-fnv) over file and number.
std::string anchor_of(const PageRequest& page) {
  std::uint64_t hash = 14695981039346656037ULL;
  for (const char c : page.file + '\n' + std::to_string(page.number))
    hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211ULL;
  std::array<char, 24> text{};
  std::snprintf(text.data(), text.size(), "p%016llx", static_cast<unsigned long long>(hash));
  return text.data();
}

std::string title_of(const PageRequest& page) {
  std::string title = page.file;
  if (page.number > 1) title += ", page " + std::to_string(page.number);
  if (page.side) title += " (" + std::string(side_name(*page.side)) + ")";
  return title;
}

std::string badge_svg(const std::string& number, Severity severity) {
  const double width = badge_width(number);
  Svg svg = Svg::inlined(width, badge_height, "class=\"badge\" aria-hidden=\"true\"");
  draw_badge(svg, {width / 2, badge_height / 2}, number, severity);
  return svg.finish();
}

std::string layer_switch(const Layer& layer) {
  Svg sample = Svg::inlined(34, 10, "class=\"sample\" aria-hidden=\"true\"");
  sample.filled_box({0, 0, 34, 10}, palette::paper);
  sample.line({0, 5}, {34, 5}, layer.stroke);
  return "<label><input type=\"checkbox\" checked data-switch=\"" + std::string(layer.name) + "\"> " +
         sample.finish() + " " + std::string(layer.title) + "</label>\n";
}

class PageWriter {
 public:
  PageWriter(const Raster& raster, const Report& report)
      : raster_(raster),
        report_(report),
        anchor_(anchor_of(report.page)),
        scale_(static_cast<double>(drawn_px) / std::max(report.width_px, report.height_px)),
        page_(overlay_page(report, scale_)),
        marks_(lay_out_marks(report, scale_)),
        drawn_(drawn_marks()) {}

  HtmlPage write(const std::vector<std::string>& file_notes) {
    const VerdictWords words = verdict_words(report_);
    const std::string title = title_of(report_.page);
    const std::string told = findings() + checks() + notes(file_notes);
    const std::string panels = html_panels(report_, scale_, anchor_);
    std::string article = "<article class=\"page\" id=\"" + anchor_ + "\" aria-labelledby=\"" + anchor_ +
                          "-name\"" + html_attribute("data-verdict", verdict_name(report_.verdict)) +
                          html_attribute("data-side", side_text()) + ">\n";
    article += html_element("h2", title, "id=\"" + anchor_ + "-name\"");
    article += "<p class=\"verdict\"><strong>" + html_escaped(words.headline) +
               "</strong>: " + html_escaped(words.detail) + ".</p>\n<div class=\"work\">\n" +
               sheet(title, told.size() + panels.size()) + "<div class=\"told\">\n" + told +
               "</div>\n</div>\n" + panels + "</article>\n";
    return {card(title, words), article};
  }

 private:
  std::string picture_id() const { return anchor_ + "-picture"; }

  std::string side_text() const {
    return report_.page.side ? std::string(side_name(*report_.page.side)) : "";
  }

  /// As ContactCard wants it.
  std::string counts() const {
    std::string text;
    for (const CheckResult& check : report_.checks) {
      const auto found = std::ranges::count_if(report_.findings, [&](const Finding& finding) {
        return finding.check == check.check && !finding.accepted;
      });
      const bool made = check.state != CheckResult::State::not_assessed;
      text += (text.empty() ? "" : " ") + std::string(check.check) + ":" +
              (made || found > 0 ? std::to_string(found) : "?");
    }
    return text;
  }

  std::string card(const std::string& title, const VerdictWords& words) const {
    std::string checks;
    for (const CheckResult& check : report_.checks)
      if (check.state != CheckResult::State::clear)
        checks += (checks.empty() ? "" : " ") + std::string(check.check);
    const PagePicture picture = page_picture(raster_, card_px, card_bytes);
    return "<li class=\"card\"" + html_attribute("data-verdict", verdict_name(report_.verdict)) +
           html_attribute("data-checks", checks) + html_attribute("data-counts", counts()) +
           html_attribute("data-page", anchor_) + html_attribute("data-name", title) +
           html_attribute("data-job", report_.job.name) + "><a href=\"#" + anchor_ +
           "\"><img alt=\"\" loading=\"lazy\" width=\"" + std::to_string(picture.width) + "\" height=\"" +
           std::to_string(picture.height) + "\" src=\"" + picture.uri + "\">" +
           html_element("span", title, "class=\"name\"") +
           html_element("span", report_.job.name, "class=\"of\"") +
           html_element("span", words.headline + ": " + words.detail, "class=\"words\"") + "</a></li>\n";
  }

  std::string sheet(const std::string& title, std::size_t beside) const {
    return "<section class=\"sheet\" aria-label=\"Picture of the page\">\n" + tools() +
           "<div class=\"view\" tabindex=\"0\" role=\"group\" aria-label=\"Picture of the page. Arrow keys "
           "move "
           "it, plus and minus zoom, 0 shows the whole page.\">\n" +
           drawing(title, beside) + "</div>\n</section>\n";
  }

  std::string tools() const {
    std::string html = "<div class=\"tools\"><fieldset><legend>Show</legend>\n";
    for (const Layer& layer : layers)
      if (is_there(layer.name)) html += layer_switch(layer);
    html += "<label><input type=\"checkbox\" data-dim> Page in grey</label>\n</fieldset>\n";
    return html +
           "<div class=\"zoom\"><button type=\"button\" data-zoom=\"out\" aria-label=\"Zoom out\">−</button>"
           "<button type=\"button\" data-zoom=\"whole\">Whole page</button>"
           "<button type=\"button\" data-zoom=\"in\" aria-label=\"Zoom in\">+</button></div></div>\n";
  }

  bool is_there(std::string_view layer) const {
    if (layer == "findings")
      return std::ranges::any_of(marks_, [](const Mark& mark) { return mark.box.has_value(); });
    if (report_.trim_px.width <= 0) return false;
    const SideLayout& layout = report_.job.layout(report_.page.side);
    if (layer == "folds") return !layout.folds.empty() || !layout.folds_y.empty();
    if (layer == "bleed") return report_.job.bleed != Edges{};
    if (layer == "safe-zone") return report_.job.safe != Edges{};
    return true;
  }

  /// `beside`: bytes of what else the page has.
  std::string drawing(const std::string& title, std::size_t beside) const {
    const std::size_t taken = beside + drawn_.size();
    const std::size_t left = page_bytes > taken ? page_bytes - taken : 0;
    const PagePicture picture =
        page_picture(raster_, picture_px, std::clamp(left, least_picture_bytes, picture_bytes));
    Svg svg = Svg::inlined(page_.width, page_.height,
                           "class=\"drawing\" role=\"img\"" +
                               html_attribute("aria-label", "The page " + title + " with " + counted() +
                                                                " drawn on it; they are listed beside it."));
    svg.picture({0, 0, page_.width, page_.height}, picture.uri, "id=\"" + picture_id() + "\"");
    svg.add(drawn_);
    return svg.finish();
  }

  std::string drawn_marks() const {
    Svg svg = Svg::inlined(page_.width, page_.height, "");
    draw_layers(svg, report_, marks_, scale_);
    svg.open_group("hits");
    add_hits(svg);
    svg.close_group();
    return svg.content();
  }

  std::string counted() const {
    const std::size_t count = report_.findings.size();
    return count == 0 ? "no findings" : count == 1 ? "one finding" : std::to_string(count) + " findings";
  }

  /// Where a click means a finding; the list centres its box. Small boxes lie over large ones, tags over all,
  /// so that each can be clicked.
  void add_hits(Svg& svg) const {
    std::vector<std::size_t> order(marks_.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::ranges::stable_sort(order, std::greater(), [&](std::size_t i) {
      return marks_[i].box ? marks_[i].box->width * marks_[i].box->height : 0;
    });
    for (const std::size_t i : order)
      if (marks_[i].box) add_hit(svg, "box", i + 1, *marks_[i].box);
    for (const std::size_t i : order)
      if (marks_[i].tag) add_hit(svg, "tag", i + 1, *marks_[i].tag);
  }

  static void add_hit(Svg& svg, const char* kind, std::size_t number, const PixelRect& area) {
    std::array<char, 256> text{};
    std::snprintf(
        text.data(), text.size(),
        "<rect class=\"hit\" data-%s=\"%zu\" x=\"%.2f\" y=\"%.2f\" width=\"%.2f\" height=\"%.2f\"/>\n", kind,
        number, area.x, area.y, area.width, area.height);
    svg.add(text.data());
  }

  std::string findings() {
    if (report_.findings.empty()) return "";
    const std::size_t taken = drawn_.size() + least_picture_bytes;
    const std::size_t room = std::min(told_bytes, page_bytes > taken ? page_bytes - taken : 0);
    std::string html = "<h3 class=\"listed\">Findings</h3>\n<ol class=\"findings\">\n";
    for (std::size_t i = 0; i < report_.findings.size(); ++i)
      html += finding(report_.findings[i], i + 1,
                      html.size() + (report_.findings.size() - i) * finding_bytes < room);
    html += "</ol>\n";
    if (undrawn_ > 0)
      html += html_element("p",
                           "There is no room here for close-ups of " + std::to_string(undrawn_) +
                               " of them: press their sentence to see the place on the page.",
                           "class=\"advice\"");
    return html;
  }

  std::string finding(const Finding& finding, std::size_t number, bool with_closeup) {
    const std::string id = std::to_string(number);
    std::string meta = std::string(finding.accepted ? "accepted" : severity_name(finding.severity)) + " · " +
                       std::string(finding.check);
    if (!finding.panel_name.empty()) meta += " · " + finding.panel_name;
    const bool placed = marks_[number - 1].box.has_value();
    std::string html =
        "<li class=\"finding\" id=\"" + anchor_ + "-" + id + "\" data-finding=\"" + id + "\">\n";
    html += "<p class=\"meta\">" + badge_svg(id, marks_[number - 1].severity) + html_element("span", meta) +
            "</p>\n";
    const std::string button = "<button type=\"button\" class=\"message\" data-goto=\"" + id + "\">" +
                               html_escaped(finding.message) + "</button>";
    html += placed ? "<h4>" + button + "</h4>\n" : html_element("h4", finding.message);
    if (!finding.advice.empty()) html += html_element("p", finding.advice, "class=\"advice\"");
    if (finding.accepted) html += html_element("p", accepted_sentence(finding) + ".", "class=\"accepted\"");
    return html + closeup(finding, id, with_closeup) + "</li>\n";
  }

  /// The first close-ups are cut from the page as it came; once there are too many for one report, the rest
  /// are taken from the picture that is there already.
  std::string closeup(const Finding& finding, const std::string& number, bool wanted) {
    const auto planned = plan_closeup(finding, report_);
    if (!planned) return "";
    if (!wanted) {
      ++undrawn_;
      return "";
    }
    const std::string label = "Close-up of finding " + number + ": " + finding.message;
    const auto figure = [&](std::string_view picture, const PixelRect& area) {
      return "<figure>" + closeup_svg(*planned, finding, report_, number, picture, area, label) +
             "</figure>\n";
    };
    const PixelRect page{0, 0, page_.width / scale_, page_.height / scale_};
    if (spent_ >= closeups_bytes) return figure("#" + picture_id(), page);
    const auto cut = page_cut(raster_, planned->area, closeup_px, closeup_bytes);
    if (!cut) return "";
    spent_ += cut->picture.uri.size();
    return figure(cut->picture.uri, cut->area);
  }

  std::string checks() const {
    std::string rows;
    for (const CheckResult& check : report_.checks) {
      const char* state = check.state == CheckResult::State::clear   ? "nothing found"
                          : check.state == CheckResult::State::found ? "found something"
                                                                     : "not assessed";
      rows += "<li>" + html_escaped(check.check) + ": " + state +
              (check.why.empty() ? "" : ", " + html_escaped(check.why)) + "</li>\n";
    }
    return "<h3>What was checked</h3>\n<ul class=\"checks\">\n" + rows + "</ul>\n";
  }

  std::string notes(const std::vector<std::string>& file_notes) const {
    std::string rows = "<li>" + std::to_string(report_.width_px) + " × " + std::to_string(report_.height_px) +
                       " pixels at " + std::to_string(std::lround(report_.dpi)) + " dpi, as the " +
                       std::string(dpi_source_name(report_.dpi_from)) + " says</li>\n";
    for (const std::string& note : file_notes) rows += html_element("li", note);
    return "<h3>The file</h3>\n<ul class=\"notes\">\n" + rows + "</ul>\n";
  }

  const Raster& raster_;
  const Report& report_;
  std::string anchor_;
  double scale_;
  OverlayPage page_;
  std::vector<Mark> marks_;
  std::string drawn_;        ///< the marks as SVG
  std::size_t undrawn_ = 0;  ///< close-ups that there was no room for
  std::size_t spent_ = 0;    ///< bytes of close-ups so far
};

}  // namespace

HtmlPage html_page(const Raster& raster, const Report& report, const std::vector<std::string>& file_notes) {
  if (report.skew == 0) return PageWriter(raster, report).write(file_notes);
  return PageWriter(straightened(raster, report.trim_px, report.skew), report).write(file_notes);
}

}  // namespace frisket
