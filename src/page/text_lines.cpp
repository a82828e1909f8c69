#include "page/text_lines.hpp"

#include <algorithm>
#include <map>

#include "page/groups.hpp"

namespace frisket {
namespace {

constexpr double least_letter_mm = 0.25;    // a full stop of 5 pt type
constexpr double tallest_letter_mm = 60.0;  // 120 pt type and more
constexpr double upright_spread = 2.2;      // height of a line, of its tallest letter
constexpr double turned_spread = 1.7;       // two figures side by side in a column make no turned letter
constexpr double tallest_turned_mm = 15.0;  // of type that runs down the page
constexpr double widest_letter_mm = 120.0;  // a joined word of script, Arabic or Devanagari
constexpr double word_space = 1.0;          // largest gap in a line, of the taller neighbour's height
constexpr double loose_space = 0.8;         // largest gap between pieces of a line, of the line's height
constexpr double shared_by_smaller = 0.5;   // height that neighbours share, of the smaller
constexpr double shared_by_taller = 0.3;    // and of the taller: an x-height letter beside a bracket
constexpr double leading = 1.3;             // largest gap between lines of a block, of the line height
constexpr double leading_aligned = 2.2;     // the same where they begin at one margin
constexpr double margin_ratio = 0.3;        // of the line height: two lines begin at one margin
constexpr double lone_letter_gap = 3.0;     // of its line's height: a section number before its heading
constexpr double leader_size_mm = 1.2;      // a dot or dash of a leader or of a dotted rule
constexpr double leader_gap_mm = 4.0;
constexpr double line_ratio = 1.7;      // of the heights of two lines of a block
constexpr double shared_measure = 0.3;  // of the shorter line's length

PixelRect united(const PixelRect& a, const PixelRect& b) {
  const double left = std::min(a.x, b.x), top = std::min(a.y, b.y);
  return {left, top, std::max(a.right(), b.right()) - left, std::max(a.bottom(), b.bottom()) - top};
}

PixelRect transposed(const PixelRect& r) { return {r.y, r.x, r.height, r.width}; }

double overlap(double a0, double a1, double b0, double b1) { return std::min(a1, b1) - std::max(a0, b0); }

/// Letters with their boxes turned so that the line runs along x.
struct Letter {
  int element;
  PixelRect box;
};

/// Distance of two letters along the line; negative where they overlap.
double gap_along(const PixelRect& a, const PixelRect& b) {
  return std::max(a.x, b.x) - std::min(a.right(), b.right());
}

double shared_height(const PixelRect& a, const PixelRect& b) {
  return overlap(a.y, a.bottom(), b.y, b.bottom());
}

/// Letters of one line, of like size: what is much smaller (stops, hyphens, accents) would reach over to the
/// letters of the next line, and is taken in later.
bool neighbours(const PixelRect& a, const PixelRect& b) {
  const double taller = std::max(a.height, b.height), smaller = std::min(a.height, b.height);
  const double shared = shared_height(a, b);
  return shared >= shared_by_smaller * smaller && shared >= shared_by_taller * taller &&
         gap_along(a, b) <= word_space * taller;
}

/// Pieces of one line that were set with wide word spaces.
bool pieces_of_one_line(const PixelRect& a, const PixelRect& b) {
  const double taller = std::max(a.height, b.height), smaller = std::min(a.height, b.height);
  return taller <= 2.0 * smaller && shared_height(a, b) >= 0.6 * smaller &&
         gap_along(a, b) <= loose_space * taller;
}

/// A stop, hyphen or quotation mark within the height of the line, or an accent or dot just over one of its
/// letters.
bool belongs_to(const PixelRect& small, const PixelRect& line) {
  if (shared_height(small, line) >= 0.5 * small.height)
    return gap_along(small, line) <= word_space * line.height;
  const double over = std::max(small.y, line.y) - std::min(small.bottom(), line.bottom());
  return gap_along(small, line) < 0.0 && over <= 0.25 * line.height && small.height <= 0.5 * line.height;
}

/// Calls `join(i, j)` for the pairs, in order along the line, no farther apart than `reach`.
template <class Boxes, class Join>
void for_each_near(const Boxes& boxes, double reach, Join join) {
  for (std::size_t i = 0; i < boxes.size(); ++i)
    for (std::size_t j = i + 1; j < boxes.size() && boxes[j].box.x <= boxes[i].box.right() + reach; ++j)
      join(static_cast<int>(i), static_cast<int>(j));
}

/// Letters that are taken for one line so far.
struct Cluster {
  PixelRect box;
  std::vector<Letter> letters;
};

void sort_along(std::vector<Cluster>& clusters) {
  std::ranges::sort(clusters, {},
                    [](const Cluster& c) { return std::tuple(c.box.x, c.box.y, c.letters.front().element); });
}

double tallest(const std::vector<Cluster>& clusters) {
  double height = 0;
  for (const Cluster& cluster : clusters) height = std::max(height, cluster.box.height);
  return height;
}

/// Joins clusters wherever `like` says so of two boxes that are near.
template <class Like>
std::vector<Cluster> joined(std::vector<Cluster> clusters, double reach, Like like) {
  sort_along(clusters);
  Groups groups(clusters.size());
  for_each_near(clusters, reach, [&](int i, int j) {
    if (like(clusters[static_cast<std::size_t>(i)].box, clusters[static_cast<std::size_t>(j)].box))
      groups.unite(i, j);
  });
  std::vector<Cluster> result;
  for (const std::vector<int>& group : groups.all()) {
    Cluster whole = clusters[static_cast<std::size_t>(group.front())];
    for (std::size_t k = 1; k < group.size(); ++k) {
      const Cluster& part = clusters[static_cast<std::size_t>(group[k])];
      whole.box = united(whole.box, part.box);
      whole.letters.insert(whole.letters.end(), part.letters.begin(), part.letters.end());
    }
    result.push_back(std::move(whole));
  }
  return result;
}

/// Gives what stayed alone to the nearest line that it belongs to.
std::vector<Cluster> with_small_marks(const std::vector<Cluster>& clusters) {
  std::vector<Cluster> lines, lone;
  for (const Cluster& cluster : clusters) (cluster.letters.size() > 1 ? lines : lone).push_back(cluster);
  const std::vector<Cluster> before = lines;
  for (const Cluster& mark : lone) {
    int best = -1;
    for (std::size_t l = 0; l < before.size(); ++l) {
      if (mark.box.height > 1.2 * before[l].box.height || !belongs_to(mark.box, before[l].box)) continue;
      if (best < 0 || gap_along(mark.box, before[l].box) <
                          gap_along(mark.box, before[static_cast<std::size_t>(best)].box))
        best = static_cast<int>(l);
    }
    if (best < 0) {
      lines.push_back(mark);
      continue;
    }
    Cluster& line = lines[static_cast<std::size_t>(best)];
    line.box = united(line.box, mark.box);
    line.letters.push_back(mark.letters.front());
  }
  return lines;
}

/// Groups of two or more letters, each sorted along the line.
std::vector<std::vector<Letter>> lines_of(const std::vector<Letter>& letters) {
  std::vector<Cluster> clusters;
  for (const Letter& letter : letters) clusters.push_back({letter.box, {letter}});
  const double reach = word_space * tallest(clusters);
  clusters = joined(std::move(clusters), reach, neighbours);
  clusters = with_small_marks(clusters);
  const double loose_reach = loose_space * tallest(clusters);
  clusters = joined(std::move(clusters), loose_reach, pieces_of_one_line);
  std::vector<std::vector<Letter>> lines;
  for (Cluster& cluster : clusters) {
    if (cluster.letters.size() < 2) continue;
    std::ranges::sort(cluster.letters, {},
                      [](const Letter& l) { return std::tuple(l.box.x, l.box.y, l.element); });
    lines.push_back(std::move(cluster.letters));
  }
  return lines;
}

/// Two dots and a bar are no text: at least two letters of like height that do not lie over one another.
bool reads_as_text(const std::vector<Letter>& line, double spread) {
  double tallest = 0, length = 0;
  PixelRect whole = line.front().box;
  for (const Letter& letter : line) {
    tallest = std::max(tallest, letter.box.height);
    whole = united(whole, letter.box);
  }
  length = whole.width;
  const auto tall =
      std::ranges::count_if(line, [&](const Letter& l) { return l.box.height >= 0.45 * tallest; });
  return tall >= 2 && length >= whole.height && whole.height <= spread * tallest;
}

double tallest_of(const std::vector<Letter>& line) {
  double tallest = 0;
  for (const Letter& letter : line) tallest = std::max(tallest, letter.box.height);
  return tallest;
}

class TextFinder {
 public:
  TextFinder(std::vector<Element>& elements, const Scale& scale) : elements_(elements), scale_(scale) {}

  TextLayout run() {
    // A line across the page of four letters is surely one; shorter ones (an i and its dot, turned) may be
    // pieces of type that runs down the page.
    take_lines(false, 4);
    take_lines(true, 3);
    take_lines(false, 2);
    adopt_leaders_and_lone_letters();
    make_blocks();
    return std::move(layout_);
  }

 private:
  bool letter_sized(const Element& e) const {
    const double low = std::min(e.box_px.width, e.box_px.height),
                 high = std::max(e.box_px.width, e.box_px.height);
    return high >= scale_.px(least_letter_mm) && low <= scale_.px(tallest_letter_mm) &&
           high <= scale_.px(widest_letter_mm) && e.matter != Matter::picture && !e.on_guide && !e.repeats &&
           e.line < 0;
  }

  void take_lines(bool vertical, std::size_t least_letters) {
    std::map<int, std::vector<Letter>> by_parent;
    for (std::size_t i = 0; i < elements_.size(); ++i)
      if (letter_sized(elements_[i]))
        by_parent[elements_[i].parent].push_back(
            {static_cast<int>(i), vertical ? transposed(elements_[i].box_px) : elements_[i].box_px});
    for (const auto& [parent, letters] : by_parent)
      for (const std::vector<Letter>& letters_of_line : lines_of(letters)) {
        if (!reads_as_text(letters_of_line, vertical ? turned_spread : upright_spread) ||
            letters_of_line.size() < least_letters)
          continue;
        // Pictures and drawings stacked in a column are far larger than type that is turned.
        if (vertical && tallest_of(letters_of_line) > scale_.px(tallest_turned_mm)) continue;
        add_line(letters_of_line, vertical, parent);
      }
  }

  void add_line(const std::vector<Letter>& letters, bool vertical, int parent) {
    TextLine line;
    line.vertical = vertical;
    line.parent = parent;
    line.box_px = elements_[letters.front().element].box_px;
    for (const Letter& letter : letters) {
      Element& element = elements_[letter.element];
      line.letters.push_back(letter.element);
      line.box_px = united(line.box_px, element.box_px);
      element.matter = Matter::text;
      element.line = static_cast<int>(layout_.lines.size());
    }
    layout_.lines.push_back(std::move(line));
  }

  bool same_block(const TextLine& one, const TextLine& other) const {
    if (one.parent != other.parent || one.vertical != other.vertical) return false;
    const PixelRect a = one.vertical ? transposed(one.box_px) : one.box_px;
    const PixelRect b = one.vertical ? transposed(other.box_px) : other.box_px;
    const double taller = std::max(a.height, b.height), smaller = std::min(a.height, b.height);
    const double gap = std::max(a.y, b.y) - std::min(a.bottom(), b.bottom());
    const bool aligned = std::abs(a.x - b.x) <= margin_ratio * smaller;
    return taller <= line_ratio * smaller && gap <= (aligned ? leading_aligned : leading) * smaller &&
           overlap(a.x, a.right(), b.x, b.right()) >= shared_measure * std::min(a.width, b.width);
  }

  void make_blocks() {
    Groups groups(layout_.lines.size());
    for (std::size_t i = 0; i < layout_.lines.size(); ++i)
      for (std::size_t j = i + 1; j < layout_.lines.size(); ++j)
        if (same_block(layout_.lines[i], layout_.lines[j]))
          groups.unite(static_cast<int>(i), static_cast<int>(j));
    for (std::vector<int>& group : groups.all()) {
      for (const int line : group)
        layout_.lines[static_cast<std::size_t>(line)].block = static_cast<int>(layout_.blocks.size());
      layout_.blocks.push_back({std::move(group), {}});
    }
  }

  /// Rows of dots that lead from a line to its page number, and lone letters beside a line (a section number
  /// before its heading) belong to the line.
  void adopt_leaders_and_lone_letters() {
    for (std::size_t l = 0; l < layout_.lines.size(); ++l) {
      TextLine& line = layout_.lines[l];
      if (line.vertical) continue;
      for (bool grown = true; grown;) {
        grown = false;
        for (std::size_t i = 0; i < elements_.size(); ++i)
          if (elements_[i].parent == line.parent && letter_sized(elements_[i]) &&
              leads_on(line, elements_[i])) {
            adopt(line, static_cast<int>(i), static_cast<int>(l));
            grown = true;
          }
      }
    }
  }

  bool leads_on(const TextLine& line, const Element& element) const {
    const PixelRect &a = line.box_px, &b = element.box_px;
    if (overlap(a.y, a.bottom(), b.y, b.bottom()) < 0.8 * std::min(a.height, b.height)) return false;
    const double gap = std::max(a.x, b.x) - std::min(a.right(), b.right());
    const bool dot = std::max(b.width, b.height) <= scale_.px(leader_size_mm);
    const bool letter = b.height >= 0.4 * a.height && b.height <= 1.3 * a.height && b.width <= 2.0 * b.height;
    return (dot && gap <= scale_.px(leader_gap_mm)) || (letter && gap <= lone_letter_gap * a.height);
  }

  void adopt(TextLine& line, int element, int line_number) {
    Element& e = elements_[static_cast<std::size_t>(element)];
    e.matter = Matter::text;
    e.line = line_number;
    line.box_px = united(line.box_px, e.box_px);
    line.letters.push_back(element);
    std::ranges::sort(line.letters, {},
                      [&](int i) { return elements_[static_cast<std::size_t>(i)].box_px.x; });
  }

  std::vector<Element>& elements_;
  const Scale& scale_;
  TextLayout layout_;
};

}  // namespace

TextLayout find_text(std::vector<Element>& elements, const Scale& scale) {
  return TextFinder(elements, scale).run();
}

}  // namespace frisket
