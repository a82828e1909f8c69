#include "page/text/letter_rows.hpp"

#include <algorithm>
#include <numeric>

#include "page/zones/box_grid.hpp"
#include "page/zones/groups.hpp"

namespace frisket {
namespace {

constexpr double loose_space = 0.8;        // largest gap between pieces of a line, of the line's height
constexpr double unlike_space = 1.6;       // largest gap between letters of unlike height, of the lower one's
constexpr double letter_space = 0.25;      // gap within a word, of the taller's height: inks may differ
constexpr double sure_space = 0.6;         // the same between words of one size; they need not stand level
constexpr double one_size = 0.6;           // lower to taller
constexpr double level = 0.1;              // of the taller's height: round letters go below the baseline
constexpr std::size_t surely_a_row = 4;    // letters: fewer may be two things
constexpr double usual_gaps = 3.0;         // largest gap of letter-spaced type, of its usual one
constexpr double widest_space = 2.5;       // and of its height
constexpr double shared_by_smaller = 0.5;  // height that neighbours share, of the smaller
constexpr double shared_by_taller = 0.3;   // and of the taller: an x-height letter beside a bracket
constexpr double tall_share = 0.45;        // of the tallest letter's height
constexpr double word_gap = 0.2;           // of the row's height, between letters
constexpr double least_width = 0.45;       // usual width along a row in single file, of the height
constexpr double least_filled = 0.5, most_filled = 1.1;  // widths together, of the row's length
constexpr double spaced_word_gap = 1.8;                  // of the usual gap where letters are spaced

double overlap(double a0, double a1, double b0, double b1) { return std::min(a1, b1) - std::max(a0, b0); }

/// Distance of two letters along the row; negative where they overlap.
double gap_along(const PixelRect& a, const PixelRect& b) {
  return std::max(a.x, b.x) - std::min(a.right(), b.right());
}

double shared_height(const PixelRect& a, const PixelRect& b) {
  return overlap(a.y, a.bottom(), b.y, b.bottom());
}

/// Letters that are taken for one line so far.
struct Cluster {
  PixelRect box;
  Ink ink;
  Row letters;
};

bool near_or_of_one_ink(const Cluster& a, const Cluster& b) {
  const double taller = std::max(a.box.height, b.box.height), smaller = std::min(a.box.height, b.box.height);
  const double reach = smaller >= one_size * taller ? sure_space : letter_space;
  return gap_along(a.box, b.box) <= reach * taller || inks_alike(a.ink, b.ink);
}

/// Letters of one line, of like size: what is much smaller (stops, hyphens, accents) would reach over to the
/// letters of the next line, and is taken in later.
bool neighbours(const Cluster& a, const Cluster& b, double word_space) {
  const double taller = std::max(a.box.height, b.box.height), smaller = std::min(a.box.height, b.box.height);
  const double shared = shared_height(a.box, b.box);
  return shared >= shared_by_smaller * smaller && shared >= shared_by_taller * taller &&
         gap_along(a.box, b.box) <= std::min(word_space * taller, unlike_space * smaller) &&
         near_or_of_one_ink(a, b);
}

/// A stop, hyphen or quotation mark within the height of the line, or an accent or dot just over one of its
/// letters.
bool belongs_to(const Cluster& small, const Cluster& line, double word_space) {
  if (small.box.height > 1.2 * line.box.height || !near_or_of_one_ink(small, line)) return false;
  if (shared_height(small.box, line.box) >= 0.5 * small.box.height)
    return gap_along(small.box, line.box) <= word_space * line.box.height &&
           (line.letters.size() >= surely_a_row || near_or_level(small.box, line.box));
  const double over = std::max(small.box.y, line.box.y) - std::min(small.box.bottom(), line.box.bottom());
  return gap_along(small.box, line.box) < 0.0 && over <= 0.25 * line.box.height &&
         small.box.height <= 0.5 * line.box.height;
}

std::vector<PixelRect> boxes_of(const std::vector<Cluster>& clusters) {
  std::vector<PixelRect> boxes;
  for (const Cluster& cluster : clusters) boxes.push_back(cluster.box);
  return boxes;
}

void take_in(Cluster& whole, const Cluster& part) {
  whole.box = united(whole.box, part.box);
  whole.letters.insert(whole.letters.end(), part.letters.begin(), part.letters.end());
}

std::vector<Cluster> one_by_one(const std::vector<Letter>& letters) {
  std::vector<Cluster> clusters;
  for (const Letter& letter : letters) clusters.push_back({letter.box, letter.ink, {letter}});
  return clusters;
}

/// Joins clusters wherever `like` says so of two that lie no farther apart than `reach` of the taller's
/// height.
template <class Like>
std::vector<Cluster> joined(const std::vector<Cluster>& clusters, double reach, double least_height,
                            Like like) {
  const BoxGrid grid(boxes_of(clusters));
  Groups groups(clusters.size());
  for (std::size_t i = 0; i < clusters.size(); ++i) {
    const double height = clusters[i].box.height;
    grid.near(grown(clusters[i].box, reach * height, 0), least_height * height, [&](int j) {
      const Cluster& other = clusters[static_cast<std::size_t>(j)];
      if (j != static_cast<int>(i) && other.box.height <= height && like(clusters[i], other))
        groups.unite(static_cast<int>(i), j);
    });
  }
  std::vector<Cluster> result;
  for (const std::vector<int>& group : groups.all()) {
    Cluster whole = clusters[static_cast<std::size_t>(group.front())];
    for (std::size_t k = 1; k < group.size(); ++k)
      take_in(whole, clusters[static_cast<std::size_t>(group[k])]);
    result.push_back(std::move(whole));
  }
  return result;
}

/// Gives what stayed alone to the nearest line that it belongs to.
std::vector<Cluster> with_small_marks(const std::vector<Cluster>& clusters, double word_space) {
  std::vector<Cluster> lines, lone;
  for (const Cluster& cluster : clusters) (cluster.letters.size() > 1 ? lines : lone).push_back(cluster);
  const BoxGrid grid(boxes_of(lone));
  std::vector<int> best(lone.size(), -1);
  for (std::size_t l = 0; l < lines.size(); ++l) {
    const double height = lines[l].box.height;
    grid.near(grown(lines[l].box, word_space * height, 0.25 * height), 0.0, [&](int m) {
      const Cluster& mark = lone[static_cast<std::size_t>(m)];
      int& nearest = best[static_cast<std::size_t>(m)];
      if (belongs_to(mark, lines[l], word_space) &&
          (nearest < 0 || gap_along(mark.box, lines[l].box) <
                              gap_along(mark.box, lines[static_cast<std::size_t>(nearest)].box)))
        nearest = static_cast<int>(l);
    });
  }
  std::vector<Cluster> result = lines;
  for (std::size_t m = 0; m < lone.size(); ++m)
    if (best[m] >= 0)
      take_in(result[static_cast<std::size_t>(best[m])], lone[m]);
    else
      result.push_back(lone[m]);
  return result;
}

/// Takes few letters apart again that lie neither near nor level.
std::vector<Cluster> short_rows_parted(const std::vector<Cluster>& clusters, double word_space) {
  std::vector<Cluster> parted;
  for (const Cluster& cluster : clusters)
    if (cluster.letters.size() >= surely_a_row)
      parted.push_back(cluster);
    else
      std::ranges::move(joined(one_by_one(cluster.letters), word_space, shared_by_taller,
                               [&](const Cluster& a, const Cluster& b) {
                                 return neighbours(a, b, word_space) && near_or_level(a.box, b.box);
                               }),
                        std::back_inserter(parted));
  return parted;
}

std::vector<double> gaps_of(const Row& row) {
  std::vector<double> gaps;
  double end = row.front().box.right();
  for (std::size_t i = 1; i < row.size(); ++i) {
    gaps.push_back(row[i].box.x - end);
    end = std::max(end, row[i].box.right());
  }
  return gaps;
}

double median(std::vector<double> values) {
  if (values.empty()) return 0;
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::ranges::nth_element(values, middle);
  return *middle;
}

/// The word space that goes with the letters' own spacing.
double spaced(const Cluster& cluster) {
  return std::min(usual_gaps * median(gaps_of(cluster.letters)), widest_space * cluster.box.height);
}

}  // namespace

bool are_level(const PixelRect& a, const PixelRect& b) {
  const double slack = level * std::max(a.height, b.height);
  return std::abs(a.y - b.y) <= slack || std::abs(a.bottom() - b.bottom()) <= slack;
}

bool near_or_level(const PixelRect& a, const PixelRect& b) {
  return gap_along(a, b) <= sure_space * std::max(a.height, b.height) || are_level(a, b);
}

bool pieces_of_one_line(const PixelRect& a, const PixelRect& b, double space) {
  const double taller = std::max(a.height, b.height), smaller = std::min(a.height, b.height);
  return taller <= 2.0 * smaller && shared_height(a, b) >= 0.6 * smaller &&
         gap_along(a, b) <= std::max(loose_space * taller, space);
}

std::vector<Row> rows_of(const std::vector<Letter>& letters, double word_space) {
  std::vector<Cluster> clusters =
      joined(one_by_one(letters), word_space, shared_by_taller,
             [&](const Cluster& a, const Cluster& b) { return neighbours(a, b, word_space); });
  clusters = short_rows_parted(clusters, word_space);
  clusters = with_small_marks(clusters, word_space);
  for (Cluster& cluster : clusters) sort_along(cluster.letters);
  clusters = joined(clusters, widest_space, 0.5, [](const Cluster& a, const Cluster& b) {
    return pieces_of_one_line(a.box, b.box, std::min(spaced(a), spaced(b))) && near_or_of_one_ink(a, b) &&
           (a.letters.size() + b.letters.size() >= surely_a_row || near_or_level(a.box, b.box));
  });
  std::vector<Row> rows;
  for (Cluster& cluster : clusters) {
    if (cluster.letters.size() < 2) continue;
    sort_along(cluster.letters);
    rows.push_back(std::move(cluster.letters));
  }
  return rows;
}

double widest_gap(const Row& row) { return std::ranges::max(gaps_of(row)); }

PixelRect box_of(const Row& row) {
  PixelRect whole = row.front().box;
  for (const Letter& letter : row) whole = united(whole, letter.box);
  return whole;
}

double tallest_of(const Row& row) {
  double tallest = 0;
  for (const Letter& letter : row) tallest = std::max(tallest, letter.box.height);
  return tallest;
}

Row tall_ones(const Row& row) {
  const double least = tall_share * tallest_of(row);
  Row tall;
  for (const Letter& letter : row)
    if (letter.box.height >= least) tall.push_back(letter);
  return tall;
}

int tall_letters(const Row& row) { return static_cast<int>(tall_ones(row).size()); }

bool reads_as_text(const Row& row, double spread) {
  const PixelRect whole = box_of(row);
  return tall_letters(row) >= 2 && whole.width >= whole.height && whole.height <= spread * tallest_of(row);
}

bool is_slanted(const Row& row, double share) { return std::abs(drift_of(row)) > share * tallest_of(row); }

bool is_stack(const Row& row) {
  std::vector<double> slenderness;
  for (const Letter& letter : tall_ones(row)) slenderness.push_back(letter.box.width / letter.box.height);
  return median(slenderness) < least_width;
}

bool is_single_file(const Row& row) {
  double filled = 0;
  for (const Letter& letter : tall_ones(row)) filled += letter.box.width / box_of(row).width;
  return !is_stack(row) && filled >= least_filled && filled <= most_filled;
}

void sort_along(Row& row) {
  std::ranges::sort(row, {}, [](const Letter& l) { return std::tuple(l.box.x, l.box.y, l.element); });
}

std::vector<int> word_starts(const Row& row) {
  const std::vector<double> gaps = gaps_of(row);
  double least = word_gap * box_of(row).height;
  if (gaps.size() > 1) least = std::max(least, spaced_word_gap * median(gaps));
  std::vector<int> starts{0};
  for (std::size_t i = 0; i < gaps.size(); ++i)
    if (gaps[i] > least) starts.push_back(static_cast<int>(i) + 1);
  return starts;
}

double drift_of(const Row& row) {
  double n = 0, sx = 0, sy = 0, sxx = 0, sxy = 0;
  for (const Letter& letter : tall_ones(row)) {
    const double x = letter.box.x + letter.box.width / 2, y = letter.box.y + letter.box.height / 2;
    n += 1, sx += x, sy += y, sxx += x * x, sxy += x * y;
  }
  const double spread = n * sxx - sx * sx;
  return spread > 0 ? (n * sxy - sx * sy) / spread * box_of(row).width : 0.0;
}

}  // namespace frisket
