#include "page/slanted_lines.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "page/neighbourhood.hpp"

namespace frisket {
namespace {

constexpr double clump_reach = 1.8;         // of the smaller letter's size: over a word space
constexpr std::size_t largest_clump = 600;  // elements: more are no lines at an angle, but a drawing or dust
constexpr int step_degrees = 5;
constexpr double most_is_level = 1.15;  // by which another angle has to be better
constexpr double word_space = 1.0;      // of the letters' height
constexpr double line_spread = 1.9;     // height of a line, of its tallest letter
constexpr double share_in_lines = 0.6;  // of a clump's tall letters
constexpr int least_tall = 3;
constexpr double arc_residual = 0.3;  // of the letters' size
constexpr double flattest = 15.0;     // radius of an arc, of the letters' size
constexpr std::size_t least_on_arc = 4;
constexpr double arc_gap = 1.5;  // between letters, of their size

constexpr double quarter_turn = std::numbers::pi / 2;
constexpr double level_within = 0.07;  // radians, 4 degrees

double radians(double degrees) { return degrees * std::numbers::pi / 180.0; }

class Clump {
 public:
  Clump(const std::vector<int>& members, const std::vector<Element>& elements, Glyphs& glyphs,
        const Neighbourhood& near)
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

  /// All of the clump, where its letters stand one after another on an arc.
  std::vector<SlantedLine> arc() {
    std::vector<cv::Point2d> middles;
    double size = 0;
    for (const int member : members_) {
      const PixelRect& b = box(member);
      middles.emplace_back(b.x + b.width / 2, b.y + b.height / 2);
      size += size_of(b) / static_cast<double>(members_.size());
    }
    if (members_.size() < least_on_arc || !lie_on_arc(middles, size)) return {};
    Row row;
    for (const int member : members_) row.push_back({member, box(member), glyphs_.ink(member)});
    sort_along(row);
    return {{std::move(row), 0.0}};
  }

 private:
  const PixelRect& box(int member) const { return elements_[static_cast<std::size_t>(member)].box_px; }

  std::vector<Row> lines_at(double angle) {
    std::vector<Letter> letters;
    for (const int member : members_)
      letters.push_back({member, glyphs_.turned_box(member, angle), glyphs_.ink(member)});
    std::vector<Row> rows = rows_of(letters, word_space);
    std::erase_if(rows, [&](const Row& row) {
      return !reads_as_text(row, line_spread) || is_stack(row) || near_.share_within(row) < 0.5;
    });
    return rows;
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

  /// Circle through the middles by least squares (Kasa, IEEE Trans. Instrumentation and Measurement 25, 1976,
  /// from memory), and no gap between neighbours on it.
  static bool lie_on_arc(const std::vector<cv::Point2d>& middles, double size) {
    cv::Mat1d a(static_cast<int>(middles.size()), 3), b(static_cast<int>(middles.size()), 1), solved;
    for (int i = 0; i < a.rows; ++i) {
      const cv::Point2d& p = middles[static_cast<std::size_t>(i)];
      a(i, 0) = p.x, a(i, 1) = p.y, a(i, 2) = 1, b(i) = p.dot(p);
    }
    if (!cv::solve(a, b, solved, cv::DECOMP_SVD)) return false;
    const cv::Point2d centre(solved(0) / 2, solved(1) / 2);
    const double radius = std::sqrt(std::max(0.0, solved(2) + centre.dot(centre)));
    double error = 0;
    std::vector<double> bearings;
    for (const cv::Point2d& p : middles) {
      error += std::pow(cv::norm(p - centre) - radius, 2);
      bearings.push_back(std::atan2(p.y - centre.y, p.x - centre.x));
    }
    error = std::sqrt(error / static_cast<double>(middles.size()));
    return error <= arc_residual * size && radius > size && radius < flattest * size &&
           follow_one_another(bearings, radius, size);
  }

  /// One gap may be wide: the one between the last letter and the first.
  static bool follow_one_another(std::vector<double> bearings, double radius, double size) {
    std::ranges::sort(bearings);
    int wide = 0;
    for (std::size_t i = 0; i < bearings.size(); ++i) {
      const bool last = i + 1 == bearings.size();
      const double step =
          last ? bearings.front() + 2 * std::numbers::pi - bearings.back() : bearings[i + 1] - bearings[i];
      wide += step * radius > (1 + arc_gap) * size;
      // Things of a ring or a heap lie beside one another as seen from the middle.
      if (step * radius < 0.2 * size) return false;
    }
    return wide <= 1;
  }

  const std::vector<int>& members_;
  const std::vector<Element>& elements_;
  Glyphs& glyphs_;
  const Neighbourhood& near_;
};

}  // namespace

std::vector<SlantedLine> slanted_lines(const std::vector<int>& members, const std::vector<Element>& elements,
                                       Glyphs& glyphs) {
  const Neighbourhood near(members, elements, glyphs);
  std::vector<SlantedLine> found;
  for (const std::vector<int>& clump : near.clumps(clump_reach)) {
    if (clump.size() < static_cast<std::size_t>(least_tall) || clump.size() > largest_clump) continue;
    Clump tried(clump, elements, glyphs, near);
    std::vector<SlantedLine> lines = tried.lines();
    if (lines.empty()) lines = tried.arc();
    std::ranges::move(lines, std::back_inserter(found));
  }
  return found;
}

}  // namespace frisket
