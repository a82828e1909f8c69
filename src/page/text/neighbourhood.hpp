#pragma once

#include <unordered_map>
#include <vector>

#include "page/text/glyphs.hpp"
#include "page/text/letter_rows.hpp"
#include "page/zones/box_grid.hpp"

namespace frisket {

/// Longer side of a box.
inline double size_of(const PixelRect& box) { return std::max(box.width, box.height); }
/// Distance of two boxes; 0 where they meet.
double gap_between(const PixelRect& a, const PixelRect& b);

/// Elements that may be letters, and which of those like them in size and ink lie near. Letters of a line lie
/// closer to one another than to the next line, whatever way it runs.
class Neighbourhood {
 public:
  Neighbourhood(const std::vector<int>& members, const std::vector<Element>& elements, Glyphs& glyphs);

  /// Share of a row's tall letters whose nearest neighbour is in the row as well, before or after them, 0
  /// to 1.
  double share_within(const Row& row);
  /// Puts together the members no farther apart than `reach` of the smaller one's size.
  std::vector<std::vector<int>> clumps(double reach) const;

 private:
  bool alike(std::size_t a, std::size_t b) const;
  int nearest_of(std::size_t member) const;
  /// The same of an element, reckoned when it is first asked for; -1 where it has none.
  int nearest(int element);

  std::vector<int> members_;
  std::vector<PixelRect> boxes_;
  std::vector<Ink> inks_;
  BoxGrid grid_;
  std::unordered_map<int, std::size_t> index_of_;  ///< of an element, in `members_`
  std::unordered_map<int, int> nearest_;           ///< element to element, of those that were asked for
};

}  // namespace frisket
