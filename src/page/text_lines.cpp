#include "page/text_lines.hpp"

#include <algorithm>
#include <map>

#include "page/groups.hpp"

namespace frisket {
namespace {

constexpr double least_letter_mm = 0.25;    // a full stop of 5 pt type
constexpr double tallest_letter_mm = 60.0;  // 120 pt type and more
constexpr double widest_letter_mm = 120.0;  // a joined word of script, Arabic or Devanagari
constexpr double word_space = 1.0;          // largest gap in a line, of the taller neighbour's height
constexpr double size_ratio = 4.0;          // full stop against capital; below the height of the taller
constexpr double shared_height = 0.5;       // of the smaller neighbour, across the line
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

bool neighbours(const Letter& a, const Letter& b) {
  const double taller = std::max(a.box.height, b.box.height), smaller = std::min(a.box.height, b.box.height);
  if (overlap(a.box.y, a.box.bottom(), b.box.y, b.box.bottom()) < shared_height * smaller) return false;
  const double gap = std::max(a.box.x, b.box.x) - std::min(a.box.right(), b.box.right());
  return gap <= word_space * taller;
}

/// Dots, accents and quotation marks: small, above or below, close.
bool belongs_over(const Letter& a, const Letter& b) {
  const Letter& small = a.box.height * a.box.width < b.box.height * b.box.width ? a : b;
  const Letter& large = &small == &a ? b : a;
  const double shared = overlap(a.box.x, a.box.right(), b.box.x, b.box.right());
  const double gap = std::max(a.box.y, b.box.y) - std::min(a.box.bottom(), b.box.bottom());
  return small.box.height <= 0.5 * large.box.height && shared >= 0.5 * small.box.width &&
         gap <= 0.4 * large.box.height;
}

/// Groups of two or more letters, each sorted along the line.
std::vector<std::vector<Letter>> lines_of(std::vector<Letter> letters) {
  std::ranges::sort(letters, {}, [](const Letter& l) { return std::tuple(l.box.x, l.box.y, l.element); });
  Groups groups(letters.size());
  double widest_reach = 0;
  for (const Letter& letter : letters) widest_reach = std::max(widest_reach, letter.box.height);
  for (std::size_t i = 0; i < letters.size(); ++i)
    for (std::size_t j = i + 1; j < letters.size(); ++j) {
      if (letters[j].box.x > letters[i].box.right() + word_space * widest_reach) break;
      const double taller = std::max(letters[i].box.height, letters[j].box.height);
      const double smaller = std::min(letters[i].box.height, letters[j].box.height);
      const bool like =
          smaller * size_ratio >= taller || std::max(letters[i].box.width, letters[j].box.width) < taller;
      if ((like && neighbours(letters[i], letters[j])) || belongs_over(letters[i], letters[j]))
        groups.unite(static_cast<int>(i), static_cast<int>(j));
    }
  std::vector<std::vector<Letter>> lines;
  for (const std::vector<int>& group : groups.all()) {
    if (group.size() < 2) continue;
    lines.emplace_back();
    for (const int member : group) lines.back().push_back(letters[static_cast<std::size_t>(member)]);
  }
  return lines;
}

/// Two dots and a bar are no text: at least two letters of like height that do not lie over one another.
bool reads_as_text(const std::vector<Letter>& line) {
  double tallest = 0, length = 0;
  PixelRect whole = line.front().box;
  for (const Letter& letter : line) {
    tallest = std::max(tallest, letter.box.height);
    whole = united(whole, letter.box);
  }
  length = whole.width;
  const auto tall =
      std::ranges::count_if(line, [&](const Letter& l) { return l.box.height >= 0.45 * tallest; });
  return tall >= 2 && length >= whole.height && whole.height <= 2.2 * tallest;
}

class TextFinder {
 public:
  TextFinder(std::vector<Element>& elements, const Scale& scale) : elements_(elements), scale_(scale) {}

  TextLayout run() {
    take_lines(false);
    take_lines(true);
    adopt_leaders_and_lone_letters();
    make_blocks();
    return std::move(layout_);
  }

 private:
  bool letter_sized(const Element& e) const {
    const double low = std::min(e.box_px.width, e.box_px.height),
                 high = std::max(e.box_px.width, e.box_px.height);
    return high >= scale_.px(least_letter_mm) && low <= scale_.px(tallest_letter_mm) &&
           high <= scale_.px(widest_letter_mm) && e.matter != Matter::picture && !e.on_guide && e.line < 0;
  }

  void take_lines(bool vertical) {
    std::map<int, std::vector<Letter>> by_parent;
    for (std::size_t i = 0; i < elements_.size(); ++i)
      if (letter_sized(elements_[i]))
        by_parent[elements_[i].parent].push_back(
            {static_cast<int>(i), vertical ? transposed(elements_[i].box_px) : elements_[i].box_px});
    for (const auto& [parent, letters] : by_parent)
      for (const std::vector<Letter>& letters_of_line : lines_of(letters)) {
        // A column of stacked initials has short 'lines' down the page; three make a line that was turned.
        if (!reads_as_text(letters_of_line) || (vertical && letters_of_line.size() < 3)) continue;
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
