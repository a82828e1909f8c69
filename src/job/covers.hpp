#pragma once

#include <optional>
#include <vector>

#include "job/folds.hpp"

namespace frisket {

/// perfect: glued round a block of pages; saddle: stitched through the fold; jacket: loose, with flaps; case:
/// the paper that is glued over boards.
enum class CoverKind { perfect, saddle, jacket, case_bound };

/// What a cover is made for. Lengths that do not belong to its kind are not looked at.
struct CoverRequest {
  CoverKind kind = CoverKind::perfect;
  int pages = 0;                ///< of the block; 0 where not said
  std::optional<Length> leaf;   ///< thickness of one leaf, two pages
  std::optional<Length> spine;  ///< in place of the one worked out
  Length cover_caliper;         ///< thickness of the cover stock
  Length endpaper_caliper;      ///< case: of one of its four leaves of endpaper
  std::optional<Length> board;  ///< thickness of a board: of a case, or of the case a jacket goes round
  std::optional<Length> hinge;  ///< perfect: scores this far from each edge of the spine
  Length flap;                  ///< jacket: width of each flap
  // Case, and jackets round one. Two book makers' formulas differ: overhang 4, joint 8, turn-in 20 mm and
  // boards as wide as the page; or 3, 10, 17 and boards 3.5 mm narrower. The first ones are the defaults,
  // because they come with an example that can be checked (common practice, no standard).
  Length overhang = Length::from_mm(4);  ///< of the boards beyond the pages, at head and at foot
  Length joint = Length::from_mm(8);     ///< between spine and board
  Length turn_in = Length::from_mm(20);  ///< of the paper round the boards
  Length inset;                          ///< by how much a board is narrower than the page
  /// Clear distance for text each side of the edges of the spine: 3/32 in at least (a book maker's template
  /// notes; common practice).
  Length spine_safe = Length::from_inches(3.0 / 32.0);
  bool bound_right = false;  ///< the spine is to the right of the front cover
};

/// Thickness of one leaf of paper that has `pages_per_inch` pages to the inch: 2 / PPI.
Length leaf_from_ppi(double pages_per_inch);
/// Thickness of one leaf: grammage (g/m2) times bulk (cm3/g) is micrometres. Bulk 1.0 is right only for
/// dense paper.
Length leaf_from_grammage(double grammage, double bulk);

/// Thickness of the pages alone: half as many leaves as pages.
Length block_thickness(int pages, Length leaf);
/// Width of the spine: `request.spine`, or the block with what lies round it on both sides: cover stock, and
/// in a case two boards and four leaves of endpaper. Empty for saddle stitching. Sources differ on whether
/// the cover stock counts; here it does where its caliper is given. Throws Error (without place) where
/// pages, leaf or the boards of a case are not known.
std::optional<Length> spine_width(const CoverRequest& request);

/// Size of one board of a case.
Size board_size(const CoverRequest& request, const Size& page);

/// How far the fore-edge of each nested sheet (four pages) is pushed out by those outside it: k leaves for
/// sheet k from the outermost, 0, and the cover's thickness besides. (A trade shortcut counts one more.)
std::vector<Length> creep(int pages, Length leaf, Length cover_caliper);

/// A cover laid flat.
struct CoverPlan {
  Size flat, finished;
  std::optional<Length> spine;
  BothSides sides;
};

/// The flat cover for a book of trimmed pages of size `page`. Panels are listed as seen on the outside.
/// Throws Error (without place) as spine_width, and for flaps that reach the spine.
CoverPlan plan_cover(const CoverRequest& request, const Size& page, Turn turn, Unit unit);

}  // namespace frisket
