// Why a canvas has the wrong size. Causes are tried from the simplest to the least likely, and the first that
// is exactly true is told, because a size can be described in many ways: half of 11 x 8.5 in is 'statement
// landscape', right at another resolution, and scaled to 50 %.
//
// 1. One turn, or the pixels right at another resolution: nothing has to be drawn anew, and a chance match of
//    both sides is next to impossible.
// 2. Bleed left out on some edges, taken twice, or of another width: the trim itself is right.
// 3. Numbers right and unit wrong: a slip of one setting.
// 4. The wrong part of the right job: one panel, equal panels, a cover without its spine or with another.
// 5. A size that people know by name: another document. Before 'scaled', as A5 is 71 % of A4.
// 6. Scaled by a whole per cent: a setting of an export. Both sides must agree with it, so it comes before
// 7. one side right, where the other one was mistyped: 97 % of an A4 page with its bleed is as wide as A4.
// 8. Scaled on both sides alike. Before the hundreds of odd names in PWG 5101.1, near one of which almost any
//    size falls.
// 9. A name from PWG 5101.1.
// Then the same for the page turned by 90 degrees. All of this is our own judgement (no source).
#include "checks/size_causes.hpp"

#include <array>
#include <cmath>

#include "checks/wording.hpp"
#include "frisket/sizes.hpp"
#include "job/folds.hpp"
#include "page/placing/placing.hpp"
#include "page/placing/size_fits.hpp"

namespace frisket {
namespace {

using Cause = std::optional<SizeCause>;

Cause turned(const FileCanvas& canvas, const Job& job) {
  if (!fits(turned(canvas.size()), job, canvas.dpi)) return std::nullopt;
  return SizeCause{"It is right when turned by 90 degrees.",
                   "Turn the page and export it again; if the page is right, turn the trim of the ticket."};
}

Cause at_files_own_dpi(const FileCanvas& canvas, const Job& job) {
  if (!canvas.file_dpi || *canvas.file_dpi == canvas.dpi) return std::nullopt;
  if (!fits(canvas.size_at(*canvas.file_dpi), job, *canvas.file_dpi)) return std::nullopt;
  const std::string dpi = plain_text(*canvas.file_dpi);
  return SizeCause{"It is right at " + dpi + " dpi, as the file itself says.",
                   "Inspect it with --dpi " + dpi + ", or take the dpi out of the ticket."};
}

/// Too few pixels want another export. Enough of them want only their resolution said.
Cause other_dpi(const FileCanvas& canvas, const Job& job) {
  const auto right = other_fitting_dpi(canvas.width, canvas.height, canvas.dpi, job);
  if (!right) return std::nullopt;
  const std::string dpi = plain_text(*right);
  return SizeCause{"It is right at " + dpi + " dpi.",
                   *right < canvas.dpi
                       ? "Export it again at " + plain_text(canvas.dpi) + " dpi; if it was made for " + dpi +
                             " dpi, inspect it with --dpi " + dpi + "."
                       : "Inspect it with --dpi " + dpi + ", and give the file that resolution on export."};
}

/// Which of the two edges of an axis have their bleed.
enum class Bled { none, one, both };

std::optional<Bled> bled(Length found, Length trim, Length first, Length second, Length tolerance) {
  const auto is = [&](Length length) { return abs(found - length) <= tolerance; };
  if (is(trim + first + second)) return Bled::both;
  if (is(trim)) return Bled::none;
  if (is(trim + first) || is(trim + second)) return Bled::one;
  return std::nullopt;
}

std::string missing_text(Bled bled, const std::string& edges) {
  return bled == Bled::both ? "" : bled == Bled::none ? edges : "one of " + edges;
}

Cause bleed_missing(const FileCanvas& canvas, const Job& job) {
  const Size found = canvas.size();
  const Length tolerance = placing_tolerance(canvas.dpi);
  const auto x = bled(found.width, job.trim.width, job.bleed.left, job.bleed.right, tolerance);
  const auto y = bled(found.height, job.trim.height, job.bleed.top, job.bleed.bottom, tolerance);
  if (!x || !y) return std::nullopt;
  const std::string sides = missing_text(*x, "left and right"), ends = missing_text(*y, "top and bottom");
  if (sides.empty() && ends.empty()) return std::nullopt;
  return SizeCause{
      "Its bleed is missing at " + sides + (sides.empty() || ends.empty() ? "" : ", and at ") + ends + ".",
      "Export it again with the bleed on every edge."};
}

Cause bleed_twice(const FileCanvas& canvas, const Job& job) {
  const Rect full{{}, {}, full_size(job).width, full_size(job).height};
  const Rect twice = grown(full, job.bleed);
  if (job.bleed == Edges{} || !close(canvas.size(), {twice.width, twice.height}, canvas.dpi))
    return std::nullopt;
  return SizeCause{"It has its bleed twice.", "Set the document to the trim size, " +
                                                  exact_size_text(job.trim, job.unit) +
                                                  ", and add the bleed on export alone."};
}

Cause other_bleed(const FileCanvas& canvas, const Job& job) {
  const auto margin = even_margin(canvas.size(), job, canvas.dpi);
  if (!margin || *margin <= Length() || *margin > Length::from_mm(20)) return std::nullopt;
  return SizeCause{"It is the trim with " + to_text(*margin, job.unit) + " round it.",
                   "Set the bleed to what the job asks for and export it again."};
}

/// Units a document may be set up in. A pixel of a screen is 1/96 in (CSS Values and Units, 6.2).
struct NamedUnit {
  const char *name, *numbers;
  Length one;
};
constexpr std::array document_units{
    NamedUnit{"in", "inches", Length::from_inches(1)}, NamedUnit{"cm", "centimetres", Length::from_mm(10)},
    NamedUnit{"mm", "millimetres", Length::from_mm(1)}, NamedUnit{"pt", "points", Length::from_points(1)},
    NamedUnit{"px", "pixels of 1/96 in", Length::from_inches(1.0 / 96.0)}};

/// The canvas has the job's numbers, and some bleed or none, in another unit.
Cause other_unit(const FileCanvas& canvas, const Job& job) {
  const Size found = canvas.size(), full = full_size(job);
  for (const NamedUnit& meant : document_units) {
    for (const NamedUnit& taken : document_units) {
      const double factor = taken.one / meant.one;
      if (std::abs(factor - 1.0) < 0.01) continue;
      const Size trim = scaled(job.trim, factor);
      const Size with_bleed{trim.width + full.width - job.trim.width,
                            trim.height + full.height - job.trim.height};
      if (!close(found, trim, canvas.dpi) && !close(found, with_bleed, canvas.dpi) &&
          !close(found, scaled(full, factor), canvas.dpi))
        continue;
      return SizeCause{std::string("Its numbers are right, its unit is not: ") + meant.numbers +
                           " were taken for " + taken.numbers + ".",
                       "Set the document to " + exact_size_text(job.trim, job.unit) + ", with the unit."};
    }
  }
  return std::nullopt;
}

std::vector<Length> widths_of(const SideLayout& side) {
  std::vector<Length> widths;
  for (const Panel& panel : side.panels)
    if (panel.area.y == Length()) widths.push_back(panel.area.width);
  return widths;
}
std::vector<Length> heights_of(const SideLayout& side) {
  std::vector<Length> heights;
  for (const Panel& panel : side.panels)
    if (panel.area.x == Length()) heights.push_back(panel.area.height);
  return heights;
}

/// With the job's bleed, or without.
bool fits_flat(const FileCanvas& canvas, const Job& job, const Size& flat) {
  Job other = job;
  other.trim = flat;
  return fits(canvas.size(), other, canvas.dpi);
}

Cause one_panel(const FileCanvas& canvas, const Job& job) {
  if (!job.folded || !fits_flat(canvas, job, job.finished)) return std::nullopt;
  return SizeCause{"It is one page of the finished size, " + exact_size_text(job.finished, job.unit) + ".",
                   "Lay the whole sheet out flat, " + exact_size_text(job.trim, job.unit) +
                       "; frisket plan draws a guide for it."};
}

Cause equal_panels(const FileCanvas& canvas, const Job& job) {
  if (!job.folded || job.spine) return std::nullopt;
  const bool along_x = !job.inside.folds.empty();
  const Length panel = along_x ? job.finished.width : job.finished.height;
  const auto panels = along_x ? widths_of(job.inside) : heights_of(job.inside);
  for (int count = 2; count <= 12; ++count) {
    Size flat = job.trim;
    (along_x ? flat.width : flat.height) = panel * count;
    if (!fits_flat(canvas, job, flat)) continue;
    return SizeCause{"It is " + std::to_string(count) + " equal panels of " + to_exact_text(panel, job.unit) +
                         "; this job's panels are " + list_text(panels, job.unit) + ".",
                     "Set the document to " + exact_size_text(job.trim, job.unit) +
                         " and put the folds where frisket plan says."};
  }
  return std::nullopt;
}

Cause other_spine(const FileCanvas& canvas, const Job& job) {
  if (!job.spine) return std::nullopt;
  const Length without = job.trim.width - *job.spine;
  for (const Length bleed : {job.bleed.left + job.bleed.right, Length()}) {
    const Length spine = std::max(canvas.size().width - bleed - without, Length());
    if (spine > *job.spine * 3.0 || !fits_flat(canvas, job, {without + spine, job.trim.height})) continue;
    const bool none = spine <= placing_tolerance(canvas.dpi);
    return SizeCause{(none ? "It is the cover without its spine"
                           : "It is the cover with a spine of " + to_text(spine, job.unit)) +
                         "; this job's spine is " + to_exact_text(*job.spine, job.unit) + ".",
                     "Make the cover " + exact_size_text(job.trim, job.unit) +
                         ", or correct pages and paper in the ticket."};
  }
  return std::nullopt;
}

/// "A5", "A5 landscape".
std::string lying_text(const SizeMatch& match) {
  const Size& size = match.named.size;
  if (size.width == size.height) return match.named.name;
  return match.named.name + (match.turned ? " landscape" : " portrait");
}

/// Names of PWG 5101.1 that nobody says are told by their underscores.
bool is_familiar(const SizeMatch& match) { return match.named.name.find('_') == std::string::npos; }

Cause named(const FileCanvas& canvas, const Job& job, bool familiar) {
  const Size found = canvas.size();
  const Size less_bleed{found.width + job.trim.width - full_size(job).width,
                        found.height + job.trim.height - full_size(job).height};
  for (const Size& size : {found, less_bleed})
    for (const SizeMatch& match : match_named_sizes(size, placing_tolerance(canvas.dpi)))
      if (is_familiar(match) == familiar &&
          close(size, match.turned ? turned(match.named.size) : match.named.size, canvas.dpi))
        return SizeCause{"It is " + lying_text(match) + (size == found ? "" : " with this job's bleed") + ".",
                         "Set the document to " + exact_size_text(job.trim, job.unit) +
                             "; if the page is right, correct the trim of the ticket."};
  return std::nullopt;
}
Cause familiar_name(const FileCanvas& canvas, const Job& job) { return named(canvas, job, true); }
Cause odd_name(const FileCanvas& canvas, const Job& job) { return named(canvas, job, false); }

Cause one_side(const FileCanvas& canvas, const Job& job) {
  const Size found = canvas.size();
  for (const Size& wanted : {full_size(job), job.trim}) {
    const Length tolerance = placing_tolerance(canvas.dpi);
    const Length x = found.width - wanted.width, y = found.height - wanted.height;
    if ((abs(x) <= tolerance) == (abs(y) <= tolerance)) continue;
    const bool wide = abs(x) > tolerance;
    const Length off = wide ? x : y;
    return SizeCause{std::string("Its ") + (wide ? "height" : "width") + " is right, its " +
                         (wide ? "width" : "height") + " is " + to_text(abs(off), job.unit) +
                         (off > Length() ? " too much." : " too little."),
                     "Set the document to " + exact_size_text(job.trim, job.unit) + "."};
  }
  return std::nullopt;
}

/// Beyond this it is another page rather than a scaled one.
constexpr double least_percent = 10, most_percent = 1000;

/// By a number of per cent that is a multiple of `step`.
Cause scaled_in_steps(const FileCanvas& canvas, const Job& job, double step) {
  const Size found = canvas.size();
  for (const Size& wanted : {full_size(job), job.trim}) {
    const double exact = 100.0 * std::sqrt(found.width / wanted.width * (found.height / wanted.height));
    const double percent = std::round(exact / step) * step;
    if (percent < least_percent || percent > most_percent || percent == 100.0) continue;
    if (!close(found, scaled(wanted, percent / 100.0), canvas.dpi)) continue;
    const bool trim_alone = wanted == job.trim && wanted != full_size(job);
    return SizeCause{
        "It is scaled to " + plain_text(percent) + " %" + (trim_alone ? " of the trim, without bleed." : "."),
        "Export it again at 100 %."};
  }
  return std::nullopt;
}
Cause scaled_by_whole(const FileCanvas& canvas, const Job& job) { return scaled_in_steps(canvas, job, 1.0); }
Cause scaled_alike(const FileCanvas& canvas, const Job& job) { return scaled_in_steps(canvas, job, 0.1); }

using Finder = Cause (*)(const FileCanvas&, const Job&);
constexpr std::array<Finder, 15> in_order{turned,       at_files_own_dpi, other_dpi,     bleed_missing,
                                          bleed_twice,  other_bleed,      other_unit,    one_panel,
                                          equal_panels, other_spine,      familiar_name, scaled_by_whole,
                                          one_side,     scaled_alike,     odd_name};

/// A square page with a margin is a scaled page by its numbers alone, or one at another resolution, and so,
/// nearly, is one that is almost square.
bool may_be_chance(Finder finder, const FileCanvas& canvas, const Job& job) {
  const bool scaling = finder == scaled_by_whole || finder == scaled_alike || finder == other_dpi;
  return finder == other_bleed || finder == odd_name ||
         (scaling && even_margin(canvas.size(), job, canvas.dpi));
}

Cause first_of(const FileCanvas& canvas, const Job& job, bool larger) {
  for (const Finder finder : in_order) {
    if (larger && may_be_chance(finder, canvas, job)) continue;
    if (Cause cause = finder(canvas, job)) return cause;
  }
  return std::nullopt;
}

Cause cause_of(const FileCanvas& canvas, const Job& job, bool larger) {
  if (Cause cause = first_of(canvas, job, larger)) return cause;
  const FileCanvas lying{canvas.height, canvas.width, canvas.dpi, canvas.file_dpi};
  Cause cause = first_of(lying, job, larger);
  if (cause)
    cause->what = "It lies turned by 90 degrees. " + cause->what, cause->advice = "Turn it. " + cause->advice;
  return cause;
}

}  // namespace

std::optional<SizeCause> size_cause(const FileCanvas& canvas, const Job& job) {
  return cause_of(canvas, job, false);
}

std::optional<SizeCause> larger_canvas_cause(const FileCanvas& canvas, const Job& job) {
  return cause_of(canvas, job, true);
}

}  // namespace frisket
