#include "page/text/slanted_lines.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>

#include "page/text/neighbourhood.hpp"

namespace frisket {
namespace {

constexpr double clump_reach = 1.8;         // of the smaller letter's size: over a word space
constexpr std::size_t largest_clump = 600;  // elements: more are no lines at an angle, but a drawing or dust
constexpr int step_degrees = 5;
constexpr double most_is_level = 1.15;  // by which another angle has to be better
constexpr double word_space = 1.0;      // of the letters' height
constexpr double space_of_three = 0.6;  // the same of three letters
constexpr double line_spread = 1.9;     // height of a line, of its tallest letter
constexpr double share_in_lines = 0.6;  // of a clump's tall letters; of a clump on an arc, tall ones
constexpr int least_tall = 3;
constexpr double arc_residual = 0.13;  // root mean square, of the letters' size: they rise and hang unlike
constexpr std::size_t least_on_arc = 5, most_on_arc = 80;
constexpr double arc_step = 3.2;     // from letter to letter at most, over a word space, of their size
constexpr double arc_reach = 2.5;    // of the smaller letter's size: type on a curve is often spaced
constexpr double tall_share = 0.45;  // of the largest letter: dots and accents lie beside the curve
constexpr double least_bend =
    0.7;  // radians from the first letter to the last: a level word may seem to bend
constexpr double quarter_turn = std::numbers::pi / 2;
constexpr double level_within = 0.07;  // radians, 4 degrees

double radians(double degrees) { return degrees * std::numbers::pi / 180.0; }

class Clump {
 public:
  Clump(const std::vector<int>& members, const std::vector<Element>& elements, Glyphs& glyphs,
        Neighbourhood& near)
      : members_(members), elements_(elements), glyphs_(glyphs), near_(near) {}

  std::vector<SlantedLine> lines() {
    double angle = 0, best = most_is_level * score_of(lines_at(0.0));
    for (int degrees = -85; degrees <= 90; degrees += step_degrees)
      if (const double score = score_of(lines_at(radians(degrees))); score > best)
        best = score, angle = radians(degrees);
    if (best <= 0) return {};
    for (int i = 0; i < 2; ++i) angle += correction(lines_at(angle));
    for (const double level : {-quarter_turn, 0.0, quarter_turn})
      if (std::abs(angle - level) < level_within) angle = std::abs(level);
    std::vector<Row> rows = lines_at(angle);
    std::erase_if(rows, [](const Row& row) { return is_slanted(row) || tall_letters(row) < least_tall; });
    int tall = 0;
    for (const Row& row : rows) tall += tall_letters(row);
    if (rows.empty() || tall < share_in_lines * tall_members()) return {};
    std::vector<SlantedLine> found;
    for (Row& row : rows) found.push_back({std::move(row), angle});
    return found;
  }

 private:
  const PixelRect& box(int member) const { return elements_[static_cast<std::size_t>(member)].box_px; }

  std::vector<Row> lines_at(double angle) {
    std::vector<Letter> letters;
    for (const int member : members_)
      letters.push_back({member, glyphs_.turned_box(member, angle), glyphs_.ink(member)});
    std::vector<Row> rows = rows_of(letters, word_space);
    std::erase_if(rows, [&](const Row& row) {
      return !reads_as_text(row, line_spread) || is_stack(row) || is_laid_through_things(row) ||
             near_.share_within(row) < 0.5;
    });
    return rows;
  }

  /// Any three that are far apart lie in a line at some angle.
  static bool is_laid_through_things(const Row& row) {
    return row.size() <= static_cast<std::size_t>(least_tall) &&
           widest_gap(row) > space_of_three * tallest_of(row);
  }

  /// Letters in lines, those in tight lines counting more.
  static double score_of(const std::vector<Row>& rows) {
    double score = 0;
    for (const Row& row : rows) score += tall_letters(row) * tallest_of(row) / box_of(row).height;
    return score;
  }

  /// By how much the longest line still climbs or falls.
  static double correction(const std::vector<Row>& rows) {
    const auto longest = std::ranges::max_element(rows, {}, &Row::size);
    return longest == rows.end() ? 0.0 : std::atan2(drift_of(*longest), box_of(*longest).width);
  }

  double tall_members() const {
    double largest = 0;
    for (const int member : members_) largest = std::max(largest, size_of(box(member)));
    return static_cast<double>(
        std::ranges::count_if(members_, [&](int m) { return size_of(box(m)) >= 0.45 * largest; }));
  }

  const std::vector<int>& members_;
  const std::vector<Element>& elements_;
  Glyphs& glyphs_;
  Neighbourhood& near_;
};

/// Seen from the middle of their circle, do the letters follow one another? One gap has to be wide: that
/// between the last letter and the first. A ring of stars has none, letters of two lines lie one behind
/// another.
bool follow_one_another(std::vector<double> bearings, double letter) {
  std::ranges::sort(bearings);
  int wide = 0;
  double widest = 0;
  for (std::size_t i = 0; i < bearings.size(); ++i) {
    const bool last = i + 1 == bearings.size();
    const double step =
        last ? bearings.front() + 2 * std::numbers::pi - bearings.back() : bearings[i + 1] - bearings[i];
    if (step < 0.2 * letter) return false;
    wide += step > arc_step * letter;
    widest = std::max(widest, step);
  }
  return wide == 1 && 2 * std::numbers::pi - widest >= least_bend;
}

/// Middles of the tall letters, from the middle of them all, in units of the letters' size. (Through a
/// straight row the circle below then goes nowhere near, whatever its place on the page.)
std::vector<cv::Point2d> middles_of(const std::vector<int>& clump, const std::vector<Element>& elements) {
  const auto box_of = [&](int member) -> const PixelRect& {
    return elements[static_cast<std::size_t>(member)].box_px;
  };
  double largest = 0;
  for (const int member : clump) largest = std::max(largest, size_of(box_of(member)));
  std::vector<cv::Point2d> middles;
  cv::Point2d sum;
  double size = 0;
  for (const int member : clump) {
    const PixelRect& box = box_of(member);
    if (size_of(box) < tall_share * largest) continue;
    sum += middles.emplace_back(box.x + box.width / 2, box.y + box.height / 2);
    size += size_of(box);
  }
  const double count = static_cast<double>(middles.size());
  for (cv::Point2d& middle : middles) middle = (middle - sum / count) * (count / size);
  return middles;
}

/// Circle through the middles by least squares (Kasa, IEEE Trans. Instrumentation and Measurement 25, 1976,
/// from memory).
bool lie_on_arc(const std::vector<int>& clump, const std::vector<Element>& elements) {
  if (clump.size() < least_on_arc || clump.size() > most_on_arc) return false;
  const std::vector<cv::Point2d> middles = middles_of(clump, elements);
  const int count = static_cast<int>(middles.size());
  if (middles.size() < least_on_arc ||
      static_cast<double>(count) < share_in_lines * static_cast<double>(clump.size()))
    return false;
  cv::Mat1d a(count, 3), b(count, 1), solved;
  for (int i = 0; i < count; ++i) {
    const cv::Point2d& p = middles[static_cast<std::size_t>(i)];
    a(i, 0) = p.x, a(i, 1) = p.y, a(i, 2) = 1, b(i) = p.dot(p);
  }
  if (!cv::solve(a, b, solved, cv::DECOMP_SVD)) return false;
  const cv::Point2d centre(solved(0) / 2, solved(1) / 2);
  const double radius = std::sqrt(std::max(0.0, solved(2) + centre.dot(centre)));
  double error = 0;
  std::vector<double> bearings;
  for (const cv::Point2d& p : middles) {
    error += std::pow(cv::norm(p - centre) - radius, 2) / count;
    bearings.push_back(std::atan2(p.y - centre.y, p.x - centre.x));
  }
  return std::sqrt(error) <= arc_residual && radius > 1 && follow_one_another(bearings, 1 / radius);
}

}  // namespace

std::vector<SlantedLine> slanted_lines(const std::vector<int>& members, const std::vector<Element>& elements,
                                       Glyphs& glyphs) {
  Neighbourhood near(members, elements, glyphs);
  std::vector<SlantedLine> found;
  for (const std::vector<int>& clump : near.clumps(clump_reach)) {
    if (clump.size() < static_cast<std::size_t>(least_tall) || clump.size() > largest_clump) continue;
    Clump tried(clump, elements, glyphs, near);
    std::ranges::move(tried.lines(), std::back_inserter(found));
  }
  return found;
}

std::vector<std::vector<int>> arcs(const std::vector<int>& members, const std::vector<Element>& elements,
                                   Glyphs& glyphs) {
  Neighbourhood near(members, elements, glyphs);
  std::vector<std::vector<int>> found;
  std::set<int> taken;
  for (const double reach : {arc_reach, clump_reach})
    for (const std::vector<int>& clump : near.clumps(reach)) {
      if (taken.contains(clump.front()) || !lie_on_arc(clump, elements)) continue;
      taken.insert(clump.begin(), clump.end());
      found.push_back(clump);
    }
  return found;
}

}  // namespace frisket
