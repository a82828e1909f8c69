// folds: is text clear of the folds, do colours that change at a fold change on it, was a guide line left in?
#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "checks/checks.hpp"
#include "checks/wording.hpp"
#include "page/grounds/boundaries.hpp"
#include "page/grounds/gutters.hpp"
#include "page/maps.hpp"
#include "page/stretches.hpp"

namespace frisket {
namespace {

constexpr std::array limits_of_folds{
    LimitSpec{"fold_safe", LimitKind::length, 1.5, 0.0, 100.0,
              "clear distance wanted each side of a fold; 0: only crossing counts"},
    LimitSpec{"fold_tolerance", LimitKind::length, 0.5, 0.0, 10.0,
              "how far a colour break may lie from the fold it was meant for"},
};
constexpr const LimitSpec& fold_safe = limits_of_folds[0];
constexpr const LimitSpec& fold_tolerance = limits_of_folds[1];

constexpr double measuring_px = 0.5;                     // positions are good to half a pixel
constexpr Length meant_for_fold = Length::from_mm(3.2);  // design: a break farther off was not meant for it
constexpr Length fix_from = Length::from_mm(1.0);        // design
constexpr double break_share = 0.25;                     // of the fold's length, to be a panel's colour
constexpr Length loose_break = Length::from_mm(2.0);  // a picture or box that ends so close was meant for it

/// A fold of the side at hand.
struct Fold {
  int number;     ///< from 1
  bool vertical;  ///< lies at an x
  Length at;
  Length clear;  ///< wanted each side
};

/// A box seen across a fold: low and high are along the axis that the fold divides.
struct Span {
  Length low, high;
};
Span across(const Rect& box, bool vertical) {
  return vertical ? Span{box.left(), box.right()} : Span{box.top(), box.bottom()};
}
Span along(const Rect& box, bool vertical) { return across(box, !vertical); }

std::string fold_text(const Fold& fold) { return "fold " + std::to_string(fold.number); }

class Folds {
 public:
  Folds(const Page& page, const Job& job, const Limits& limits)
      : page_(page),
        job_(job),
        clear_(limits.length(fold_safe)),
        tolerance_(limits.length(fold_tolerance)),
        noise_(Length::from_mm(measuring_px / page.placement.px_per_mm)) {}

  Outcome run() {
    const SideLayout& layout = job_.layout(page_.side);
    int number = 0;
    const auto judge_at = [&](Length at, bool vertical) {
      const auto own = layout.own_clear.find(++number);
      judge({number, vertical, at, own == layout.own_clear.end() ? clear_ : own->second});
    };
    for (const Length at : layout.folds) judge_at(at, true);
    for (const Length at : layout.folds_y) judge_at(at, false);
    return std::move(outcome_);
  }

 private:
  void judge(const Fold& fold) {
    add_guides_on(fold);
    find_text_on(fold);
    find_break_off(fold);
  }

  double pixel_of(const Fold& fold) const {
    return fold.vertical ? page_.placement.px_of_x(fold.at) : page_.placement.px_of_y(fold.at);
  }
  Length fold_length(const Fold& fold) const { return fold.vertical ? job_.trim.height : job_.trim.width; }

  Finding finding_on(const Fold& fold, std::string_view kind, Severity severity) const {
    Finding finding;
    finding.kind = kind;
    finding.severity = severity;
    finding.fold = fold.number;
    return finding;
  }

  void add_guides_on(const Fold& fold) {
    for (const Guide& guide : page_.guides) {
      if (guide.fold != fold.number) continue;
      Finding finding = finding_on(fold, "guide-on-fold", Severity::fix);
      finding.box = guide_box(guide, job_.trim);
      finding.whole = finding.box;
      finding.measured = abs(guide.position - fold.at);
      finding.required = tolerance_;
      finding.message =
          "A thin line runs along the whole of " + fold_text(fold) + ": a guide line would print.";
      finding.advice = guide_advice;
      outcome_.findings.push_back(std::move(finding));
    }
  }

  // --- text ---

  struct TextAt {
    bool through_letter = false, crossed = false;
    Length distance;  ///< of the nearest ink; 0 where crossed
    Rect words;       ///< within the clear distance, or crossed
  };

  TextAt text_at(const TextLine& line, const Fold& fold) const {
    TextAt found;
    const Span whole = across(line.box, fold.vertical);
    found.crossed = whole.low < fold.at - noise_ && whole.high > fold.at + noise_;
    found.distance =
        found.crossed ? Length() : std::max({whole.low - fold.at, fold.at - whole.high, Length()});
    for (const int letter : line.letters) {
      const Span ink = across(page_.elements[static_cast<std::size_t>(letter)].box, fold.vertical);
      found.through_letter |= ink.low < fold.at - noise_ && ink.high > fold.at + noise_;
    }
    for (const Rect& word : word_boxes(page_, line)) {
      const Span ink = across(word, fold.vertical);
      const Length reach = std::max(fold.clear, noise_);
      if (ink.low < fold.at + reach && ink.high > fold.at - reach) found.words = united(found.words, word);
      // Between two letters of a word the fold parts the word all the same.
      found.through_letter |= ink.low < fold.at - noise_ && ink.high > fold.at + noise_;
    }
    if (found.words.empty()) found.words = nearest_words(line, fold);
    return found;
  }

  /// Where the fold lies in a word space wider than the clear distance: the words on both sides.
  Rect nearest_words(const TextLine& line, const Fold& fold) const {
    std::optional<Rect> before, after;
    for (const Rect& word : word_boxes(page_, line)) {
      if (across(word, fold.vertical).high <= fold.at)
        before = word;
      else if (!after)
        after = word;
    }
    return united(before.value_or(Rect{}), after.value_or(Rect{}));
  }

  /// How far the columns on both sides keep from the fold, where the line is one of a column, or of two that
  /// were read as one.
  std::optional<Length> distance_in_gutter(const TextLine& line, const std::vector<Gutter>& gutters,
                                           const Fold& fold) const {
    const Span run = along(line.box, fold.vertical);
    const Length middle = (run.low + run.high) / 2.0;
    for (const Gutter& gutter : gutters)
      if (gutter.from <= middle && middle <= gutter.to)
        return std::min(fold.at - gutter.begin, gutter.end - fold.at);
    return std::nullopt;
  }

  void find_text_on(const Fold& fold) {
    struct Merged {
      TextAt text;
      Rect whole;
      int lines = 0;
    };
    const std::vector<Gutter> gutters = gutters_at(page_, fold.at, fold.vertical);
    std::vector<TextAt> texts;
    std::vector<bool> told;
    for (const TextLine& line : page_.lines) {
      const TextAt& text = texts.emplace_back(text_at(line, fold));
      told.push_back((text.crossed || text.distance < fold.clear - noise_) &&
                     (text.through_letter || !(distance_in_gutter(line, gutters, fold) >= tolerance_)));
    }
    const std::vector<int> stretch_of = stretches(page_, told);
    std::map<int, Merged> by_stretch;
    for (std::size_t i = 0; i < told.size(); ++i) {
      if (!told[i]) continue;
      const TextAt& text = texts[i];
      const TextLine& line = page_.lines[i];
      const auto [at, fresh] = by_stretch.try_emplace(stretch_of[i], Merged{text, line.box, 1});
      if (fresh) continue;
      Merged& merged = at->second;
      merged.text.through_letter |= text.through_letter;
      merged.text.crossed |= text.crossed;
      merged.text.distance = std::min(merged.text.distance, text.distance);
      merged.text.words = united(merged.text.words, text.words);
      merged.whole = united(merged.whole, line.box);
      ++merged.lines;
    }
    for (const auto& [stretch, merged] : by_stretch) add_text(fold, merged.text, merged.whole, merged.lines);
  }

  void add_text(const Fold& fold, const TextAt& text, const Rect& whole, int lines) {
    Finding finding = finding_on(fold, text.crossed ? "text-across-fold" : "text-near-fold",
                                 text.through_letter ? Severity::fix : Severity::review);
    finding.box = text.words;
    finding.whole = whole;
    finding.measured = text.distance;
    finding.required = fold.clear;
    const std::string subject = subject_text(Matter::text, lines);
    const bool several = lines > 1;
    if (text.crossed) {
      finding.message = subject + (several ? " run across " : " runs across ") + fold_text(fold) +
                        (text.through_letter ? ": the fold goes through letters."
                                             : ": the fold goes through a word space.");
      finding.advice = "Keep the text on one panel, clear of the fold by " +
                       to_exact_text(fold.clear, job_.unit) + ", or break the line there.";
    } else {
      const bool before = across(whole, fold.vertical).high <= fold.at + noise_;
      const std::string_view way = fold.vertical ? (before ? "left" : "right") : (before ? "up" : "down");
      finding.message = subject + (several ? " are " : " is ") + to_text(text.distance, job_.unit) +
                        " from " + fold_text(fold) + "; keep " + to_exact_text(fold.clear, job_.unit) +
                        " clear.";
      finding.advice =
          "Move it " + std::string(way) + " by " + with_points(fold.clear - text.distance, job_.unit) + ".";
    }
    outcome_.findings.push_back(std::move(finding));
  }

  // --- colour breaks ---

  struct Break {
    Length offset;  ///< from the fold; negative: left of it, or above
    Length length;
    Rect box, whole;
  };

  /// The line between two bands of a gradient is no border.
  bool is_between_bands(const BoundaryRun& run) const {
    const SurfaceMap& map = page_.maps->surfaces;
    if (run.outer == BoundaryRun::bare_paper || is_paper(map.of(run.outer)) || is_paper(map.of(run.inner)))
      return false;
    return are_bands(map.of(run.outer), map.of(run.inner));
  }

  bool bleeds_or_loose(const BoundaryRun& run, Length offset) const {
    const SurfaceMap& map = page_.maps->surfaces;
    const auto panel = [&](int surface) { return !is_paper(map.of(surface)) && map.of(surface).bleeds; };
    return panel(run.outer) || panel(run.inner) || abs(offset) <= loose_break;
  }

  std::vector<Break> breaks_near(const Fold& fold) const {
    const Scale& scale = page_.maps->scale;
    const cv::Mat rgb = view_of(*page_.raster);
    const double position = pixel_of(fold);
    const Strip strip =
        strip_round(position, fold.vertical, rgb.size(), scale.whole_px(meant_for_fold.mm()) + 3);
    const int from = fold.vertical ? strip.origin.x : strip.origin.y;
    std::vector<Break> breaks;
    for (const BoundaryRun& run :
         follow_boundaries(rgb, page_.maps->surfaces, strip, position - from, scale.whole_px(5.0), scale)) {
      const Length offset = Length::from_mm((from + run.position - position) / scale.px_per_mm);
      if (abs(offset) > meant_for_fold || is_between_bands(run) || !bleeds_or_loose(run, offset)) continue;
      const Length at = fold.at + offset;
      const Length first = fold.vertical ? page_.placement.y_of(run.first) : page_.placement.x_of(run.first);
      const Length last = fold.vertical ? page_.placement.y_of(run.last) : page_.placement.x_of(run.last);
      const Length low = std::min(at, fold.at), high = std::max(at, fold.at);
      const Rect box =
          fold.vertical ? Rect::from_sides(low, first, high, last) : Rect::from_sides(first, low, last, high);
      add_break(breaks, {offset, last - first, box, box});
    }
    return breaks;
  }

  /// Pieces of one break, parted by pictures or text that lie over it, are one.
  static void add_break(std::vector<Break>& breaks, const Break& piece) {
    for (Break& other : breaks)
      if (abs(other.offset - piece.offset) <= Length::from_mm(0.2)) {
        other.length += piece.length;
        other.box = united(other.box, piece.box);
        other.whole = other.box;
        return;
      }
    breaks.push_back(piece);
  }

  void find_break_off(const Fold& fold) {
    for (const Break& found : breaks_near(fold)) {
      if (abs(found.offset) <= tolerance_ + noise_ || found.length < break_share * fold_length(fold))
        continue;
      Finding finding =
          finding_on(fold, "colour-break-off-fold",
                     abs(found.offset) >= fix_from - noise_ / 2.0 ? Severity::fix : Severity::review);
      finding.box = found.box;
      finding.whole = found.whole;
      finding.measured = abs(found.offset);
      finding.required = tolerance_;
      const bool before = found.offset < Length();
      const std::string_view side =
          fold.vertical ? (before ? "left of" : "right of") : (before ? "above" : "below");
      const std::string_view way = fold.vertical ? (before ? "right" : "left") : (before ? "down" : "up");
      finding.message = "Colour changes " + to_text(abs(found.offset), job_.unit) + " to the " +
                        std::string(side) + " " + fold_text(fold) + "; it looks meant for the fold.";
      if (!fold.vertical)
        finding.message = "Colour changes " + to_text(abs(found.offset), job_.unit) + " " +
                          std::string(side) + " " + fold_text(fold) + "; it looks meant for the fold.";
      finding.advice = "Move the edge " + std::string(way) + " by " +
                       with_points(abs(found.offset), job_.unit) + ", onto the fold.";
      outcome_.findings.push_back(std::move(finding));
    }
  }

  const Page& page_;
  const Job& job_;
  Length clear_, tolerance_, noise_;
  Outcome outcome_;
};

Outcome check_folds(const Page& page, const Job& job, const Limits& limits) {
  return Folds(page, job, limits).run();
}

constexpr std::array<std::string_view, 4> kinds_of_folds{"text-across-fold", "text-near-fold",
                                                         "colour-break-off-fold", "guide-on-fold"};

}  // namespace

const Check folds_check{"folds", limits_of_folds, check_folds, true, kinds_of_folds};

}  // namespace frisket
