#pragma once

#include <filesystem>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "frisket/finding.hpp"
#include "frisket/geometry.hpp"
#include "frisket/limits.hpp"

namespace frisket {

/// The two sides of a folded sheet. Work that is not folded has no side.
enum class Side { inside, outside };
/// "inside" or "outside".
std::string_view side_name(Side side);

/// What the margin of a case that is glued down round the boards is called: nobody sees it, nothing live may
/// lie there.
inline constexpr std::string_view turn_in_name = "turn-in";

/// A named part of the flat sheet between folds, in job space of the side it is on.
struct Panel {
  std::string name;
  Rect area;
};

/// Folds and panels of one side, as that side is seen: left to right, then top to bottom.
struct SideLayout {
  std::vector<Length> folds;    ///< x of the vertical folds, from the left trim, ascending
  std::vector<Length> folds_y;  ///< y of the horizontal folds, from the top trim, ascending
  std::vector<Panel> panels;    ///< row by row; one panel over the whole trim where nothing is folded
  /// Clear distance wanted each side of a fold that has one of its own, in place of the job's fold_safe: the
  /// edges of a spine. By number of the fold from 1, vertical folds first.
  std::map<int, Length> own_clear{};
};

/// One line of the ticket's list of pages; `file` is relative to the ticket.
struct JobPage {
  std::string file;
  std::optional<Side> side;
};

/// A finding that the ticket lets pass. It holds as long as the finding stays in its place and gets no worse.
struct AcceptedFinding {
  std::string page;  ///< as the ticket names it
  int number = 1;    ///< page within the file
  std::string check, kind;
  std::optional<Rect> box;  ///< empty where the finding is about no one place
  std::optional<Length> measured;
  std::optional<double> measured_ppi;
  std::string why, who;
};
/// Whether `accepted` speaks of `finding`: the same kind, each side of its box within 0.5 mm, and the
/// distance no farther than 0.05 mm (the resolution no more than 1 %) on the wrong side of what was accepted.
/// A new render moves things by less, a person by more (ours, no source).
bool accepts(const AcceptedFinding& accepted, const Finding& finding);

/// All arithmetic of one job: it needs no pixels.
struct Job {
  std::string name;
  Unit unit = Unit::millimetre;  ///< for sentences and bare numbers
  Size trim;                     ///< flat, trimmed
  Size finished;                 ///< closed, after folding
  Edges bleed;
  Edges safe;
  bool folded = false;
  std::optional<Length> spine;  ///< covers only
  SideLayout inside;
  SideLayout outside;
  std::optional<double> dpi;  ///< of the pages, where the ticket says it; dots per inch
  /// Whether the trim is to be found by printed marks: on any canvas, or on none. Where nothing is said, on a
  /// canvas that is not the size of the job.
  std::optional<bool> marks{};
  Limits limits;
  std::vector<JobPage> pages;
  std::vector<AcceptedFinding> accepted{};
  /// Saddle-stitched work only: by how much the fore-edge of each nested sheet is pushed out before the cut,
  /// the outermost sheet first. Empty where it cannot be known.
  std::vector<Length> creep{};

  /// The layout a page of `side` is held against; for work without sides both are the same.
  const SideLayout& layout(std::optional<Side> side) const { return side == Side::inside ? inside : outside; }
};

/// The distance text is to keep from fold number `fold` (from 1, vertical folds first) of `side`, a layout of
/// `job`: the fold's own, else the job's fold_safe; zero where the job has no such limit.
Length clear_of_fold(const Job& job, const SideLayout& side, int fold);
/// The part of a panel of `side` that live matter may fill: inside the safe zone where the panel ends at the
/// trim, clear of the fold where it ends at one. Empty on turn-ins, and where that leaves less than a line of
/// 6 pt type takes, as on a narrow spine.
Rect live_area(const Job& job, const SideLayout& side, const Panel& panel);

/// Settings from the command line, by ticket key: they override the ticket. Values are written as in a
/// flag: "11x8.5in", "0.125in", "letter" for folds, "300" for dpi.
struct JobFlag {
  std::string
      key;  ///< "trim", "bleed", "safe", "folds", "unit", "dpi", "turn", "marks", or the key of a limit
  std::string value;
};

/// Reads a ticket file and the printer's file it refers to, then lays `flags` over it. `specs` are the
/// limits that tickets may carry. Throws Error that names file, key, value and what was expected.
Job read_job(const std::filesystem::path& ticket, std::span<const JobFlag> flags,
             std::span<const LimitSpec> specs);
/// A job from flags alone; `trim` is required. Throws Error likewise.
Job job_from_flags(std::span<const JobFlag> flags, std::span<const LimitSpec> specs);

}  // namespace frisket
