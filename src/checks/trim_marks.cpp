#include "checks/trim_marks.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <numbers>

#include "checks/wording.hpp"
#include "frisket/job.hpp"
#include "page/placing/placing.hpp"

namespace frisket {
namespace {

/// Marks are found to a tenth of this; what is off by more is another trim or another fold.
constexpr Length one_place = Length::from_mm(0.5);

std::string degrees_text(double degrees) {
  std::array<char, 32> text{};
  std::snprintf(text.data(), text.size(), "%.2f degrees", std::abs(degrees));
  return text.data();
}

Finding finding_of(std::string_view kind, Severity severity, std::string message, std::string advice) {
  Finding finding;
  finding.kind = kind;
  finding.severity = severity;
  finding.message = std::move(message);
  finding.advice = std::move(advice);
  return finding;
}

/// The boxes and marks of one page beside its job.
class TrimFindings {
 public:
  TrimFindings(const Page& page, const Job& job)
      : page_(page), job_(job), tolerance_(placing_tolerance(page.dpi)) {}

  std::vector<Finding> all() {
    judge_trim_box();
    judge_bleed_box();
    judge_marks();
    if (page_.on_canvas.how == Placing::by_marks) note_marks();
    if (page_.on_canvas.how == Placing::by_boxes) note_boxes();
    return std::move(findings_);
  }

 private:
  Length length(double px) const { return Length::from_inches(px / page_.dpi); }
  Size size(const PixelRect& box) const { return {length(box.width), length(box.height)}; }
  std::string text(const Size& size) const { return size_text(size, job_.unit); }

  bool is_jobs(const Size& size) const {
    return abs(size.width - job_.trim.width) <= tolerance_ &&
           abs(size.height - job_.trim.height) <= tolerance_;
  }

  void add(std::string_view kind, Severity severity, std::string message, std::string advice) {
    findings_.push_back(finding_of(kind, severity, std::move(message), std::move(advice)));
  }

  void judge_trim_box() {
    const auto& box = page_.canvas->boxes.trim;
    if (!box || is_jobs(size(*box))) return;
    add("boxes-differ", Severity::fix,
        "TrimBox of the PDF is " + text(size(*box)) + "; the job's trim is " +
            exact_size_text(job_.trim, job_.unit) + ".",
        "Export it again with the trim as TrimBox, or correct the ticket: a printer cuts by the TrimBox.");
  }

  /// How far the bleed box goes on beyond the trim box, at the edge where it lacks most.
  void judge_bleed_box() {
    const auto& [trim, bleed, crop] = page_.canvas->boxes;
    if (!trim || !bleed || !is_jobs(size(*trim))) return;
    const Edges beyond{length(trim->y - bleed->y), length(bleed->right() - trim->right()),
                       length(bleed->bottom() - trim->bottom()), length(trim->x - bleed->x)};
    const auto lack = [&](Edge edge) { return job_.bleed.at(edge) - beyond.at(edge); };
    const Edge worst = *std::ranges::max_element(all_edges, {}, lack);
    if (lack(worst) <= Length::from_mm(0.1)) return;  // boxes are written in points with two decimals or none
    add("bleed-box-short", Severity::review,
        "BleedBox of the PDF goes on " + to_text(beyond.at(worst), job_.unit) + " beyond the " +
            std::string(edge_name(worst)) + " trim; the job asks for " +
            to_text(job_.bleed.at(worst), job_.unit) + " of bleed.",
        "Export it again with the job's bleed: what lies outside of the BleedBox may be left out on the "
        "plate.");
    findings_.back().edge = worst;
    findings_.back().measured = beyond.at(worst);
    findings_.back().required = job_.bleed.at(worst);
  }

  void judge_marks() {
    if (!page_.marks) return;
    if (!is_jobs(page_.marks->size))
      add("marks-differ", Severity::fix,
          "Crop marks stand " + text(page_.marks->size) + " apart; the job's trim is " +
              exact_size_text(job_.trim, job_.unit) + ".",
          "Set the document to " + exact_size_text(job_.trim, job_.unit) +
              " and export it again, or correct the ticket.");
    else if (page_.on_canvas.how == Placing::by_boxes)
      compare_with_boxes();
    else if (page_.on_canvas.how == Placing::by_marks)
      judge_skew(), judge_fold_marks();
  }

  void compare_with_boxes() {
    const PixelRect &box = page_.on_canvas.trim_px, &marks = page_.marks->trim_px;
    const Length x = length(marks.x + marks.width / 2 - box.x - box.width / 2),
                 y = length(marks.y + marks.height / 2 - box.y - box.height / 2);
    std::string ways;
    if (abs(x) > tolerance_)
      ways = to_text(abs(x), job_.unit) + (x < Length() ? " to the left" : " to the right");
    if (abs(y) > tolerance_)
      ways += (ways.empty() ? "" : " and ") + to_text(abs(y), job_.unit) +
              (y < Length() ? " too high" : " too low");
    if (ways.empty()) return judge_fold_marks();
    add("marks-differ", Severity::fix,
        "Crop marks and TrimBox of the PDF do not agree: the marks lie " + ways + ".",
        "Export it again with boxes and marks by the same program. It was inspected by the TrimBox.");
  }

  void judge_skew() {
    if (page_.on_canvas.skew == 0) return;
    const double turned = page_.on_canvas.skew;
    const Length across = job_.trim.width * std::abs(std::tan(turned * std::numbers::pi / 180.0));
    add("crooked", Severity::review,
        "Page lies turned " + std::string(turned > 0 ? "clockwise" : "counter-clockwise") + " by " +
            degrees_text(turned) + ": " + to_text(across, job_.unit) + " across its width.",
        "Place it straight and export it again. It was turned straight by its marks to be inspected.");
  }

  /// Fold marks where the job has no fold. A fold without marks is no fault: few documents have them.
  void judge_fold_marks() {
    const SideLayout& layout = job_.layout(page_.side);
    judge_fold_marks(page_.marks->folds, layout.folds, job_.trim.width, true, 0);
    judge_fold_marks(page_.marks->folds_y, layout.folds_y, job_.trim.height, false, layout.folds.size());
  }

  void judge_fold_marks(const std::vector<Length>& marks, const std::vector<Length>& folds, Length side,
                        bool vertical, std::size_t before) {
    for (const Length mark : marks) {
      const auto off = [&](Length fold) { return abs(fold - mark); };
      const auto nearest = std::ranges::min_element(folds, {}, off);
      const bool is_fold = nearest != folds.end() && off(*nearest) <= one_place;
      const bool is_centre = abs(mark - side / 2) <= one_place;
      if (is_fold || is_centre) continue;
      const std::string where =
          to_text(mark, job_.unit) + " from the " + (vertical ? "left" : "top") + " trim";
      if (nearest == folds.end()) {
        add("fold-marks-differ", Severity::review,
            "Fold marks stand " + where + "; the job has no fold there.",
            "Take the marks away, or add the fold to the ticket.");
        continue;
      }
      const auto number = static_cast<std::size_t>(nearest - folds.begin()) + before + 1;
      add("fold-marks-differ", Severity::review,
          "Fold marks stand " + where + "; fold " + std::to_string(number) + " of the job is at " +
              to_text(*nearest, job_.unit) + ".",
          "Move the marks by " + to_text(off(*nearest), job_.unit) + ", or correct the folds of the ticket.");
      findings_.back().fold = static_cast<int>(number);
      findings_.back().measured = off(*nearest);
      findings_.back().required = one_place;
    }
  }

  void note_marks() {
    add("larger-canvas", Severity::note,
        "Page is " + text(size({0, 0, double(page_.canvas->width), double(page_.canvas->height)})) +
            "; its trim was found by " + std::to_string(page_.marks->strokes) + " crop marks at " +
            std::to_string(page_.marks->corners) + " corners" +
            (page_.marks->whole ? "." : ", its far side by the job's size."),
        "");
  }

  void note_boxes() {
    add("larger-canvas", Severity::note,
        "Page is " + text(size({0, 0, double(page_.canvas->width), double(page_.canvas->height)})) +
            "; its trim was taken from the " + (page_.canvas->boxes.trim ? "TrimBox" : "CropBox") +
            " of the PDF.",
        "");
  }

  const Page& page_;
  const Job& job_;
  Length tolerance_;
  std::vector<Finding> findings_;
};

}  // namespace

std::vector<Finding> findings_of_marks_and_boxes(const Page& page, const Job& job) {
  return TrimFindings(page, job).all();
}

}  // namespace frisket
