#include "page/text/text_lines.hpp"

#include <algorithm>
#include <map>
#include <numbers>

#include "page/text/letter_rows.hpp"
#include "page/text/neighbourhood.hpp"
#include "page/text/picture_column.hpp"
#include "page/text/short_words.hpp"
#include "page/text/slanted_lines.hpp"
#include "page/text/text_blocks.hpp"
#include "page/text/written_words.hpp"
#include "page/zones/box_grid.hpp"
#include "page/zones/groups.hpp"

namespace frisket {
namespace {

constexpr double least_letter_mm = 0.25;    // a full stop of 5 pt type
constexpr double tallest_letter_mm = 60.0;  // 120 pt type and more
constexpr double widest_letter_mm = 120.0;  // a joined word of script, Arabic or Devanagari
constexpr double slenderest_letter = 45.0;  // its length to its width: an l of a hairline face has 36
constexpr double slenderest_cut = 20.0;  // the same of what the canvas edge cuts, mostly lines of the ground
constexpr double upright_spread = 2.2;   // height of a line, of its tallest letter
constexpr double turned_spread = 1.7;    // two figures side by side in a column make no turned letter
constexpr double word_space = 1.0;       // largest gap in a line, of the letters' height
constexpr double sure_turned_space = 0.6;
constexpr double turned_word_space = 0.8;  // figures under one another are no turned line
constexpr double lone_letter_gap = 3.0;    // of its line's height: a section number before its heading
constexpr double short_word_gap = 2.0;     // the same of a word of two or three letters
constexpr double lone_turned_gap = 1.2;    // the same of a line at an angle
constexpr double like_strokes = 1.4;       // wider to narrower, of letters of one face
constexpr double leader_size_mm = 1.2;     // a dot or dash of a leader or of a dotted rule
constexpr double leader_gap_mm = 4.0;
constexpr double beside = 0.6;        // largest gap of a letter from its line, of a letter's size
constexpr double beside_mark = 0.25;  // the same of what is much smaller or larger than its letters
constexpr double hole_share = 0.12;   // of the box that it is a hole of
constexpr int most_beside = 12;       // letters and marks: more are dust, or a drawing
constexpr std::size_t surely_text =
    4;  // letters of a line: fewer may be crumbs in a counter, or parts of an icon
constexpr double nearly_straight = 0.15;  // radians: words of which few letters stand on the line look turned
constexpr double quarter_turn = std::numbers::pi / 2;

double overlap(double a0, double a1, double b0, double b1) { return std::min(a1, b1) - std::max(a0, b0); }

class TextFinder {
 public:
  TextFinder(std::vector<Element>& elements, Glyphs& glyphs, const Scale& scale)
      : elements_(elements), glyphs_(glyphs), scale_(scale), boxes_(boxes_of(elements)) {}

  TextLayout run() {
    // What stands on boxes first: a box that carries lines is no letter of another line.
    carries_line_.resize(elements_.size());
    for (const bool on_page : {false, true}) {
      on_page_ = on_page;
      take_lines();
    }
    join_pieces();
    layout_.blocks = blocks_of(layout_.lines, glyphs_);
    return std::move(layout_);
  }

 private:
  void take_lines() {
    // Arcs first, whose middle would pass for a line. Then what surely runs down the page: rows can be read
    // across the columns of a turned block as well. A line across the page of four letters is sure, too;
    // shorter ones (an i and its dot, turned) may be pieces of type that runs another way.
    take_arcs();
    take_rows({true, 5, sure_turned_space, 0.75, 0.3, true});
    take_rows({false, 4, word_space, 0.5, 0.3});
    take_rows({true, 3, turned_word_space, 0.5, 0.3, true});
    take_slanted();
    take_rows({false, 2, word_space, 0.5, 0.6});
    take_rows({true, 2, turned_word_space, 0.5, 0.6});
    take_written_words();
    take_short_words();
    adopt_what_is_left_beside_letters();
    adopt_leaders_and_lone_letters();
  }

  bool letter_sized(const Element& e) const {
    const double low = std::min(e.box_px.width, e.box_px.height),
                 high = std::max(e.box_px.width, e.box_px.height);
    return high >= scale_.px(least_letter_mm) && low <= scale_.px(tallest_letter_mm) &&
           high <= scale_.px(widest_letter_mm) && e.matter != Matter::picture && !e.on_guide && !e.repeats &&
           e.line < 0 && !is_hole(e) && !is_drawn_line(e);
  }

  static bool is_drawn_line(const Element& e) {
    const double width = e.box_px.width, height = e.box_px.height;
    if (!e.touches_canvas) return std::max(width, height) > slenderest_letter * std::min(width, height);
    // At any angle: what it covers is its length times its width.
    return width * width + height * height > slenderest_cut * e.ink * width * height;
  }

  /// The ground that shows through a ring or a large letter is none of the type that stands on a box.
  bool is_hole(const Element& e) const {
    if (e.parent < 0 || e.matter != Matter::field) return false;
    const PixelRect carrier = box(e.parent);
    return e.box_px.width * e.box_px.height >= hole_share * carrier.width * carrier.height;
  }

  /// What may still be a letter, by the ground that it stands on.
  std::map<int, std::vector<int>> left_over() const {
    std::map<int, std::vector<int>> by_parent;
    for (std::size_t i = 0; i < elements_.size(); ++i)
      if ((elements_[i].parent < 0) == on_page_ && !carries_line_[i] && letter_sized(elements_[i]))
        by_parent[elements_[i].parent].push_back(static_cast<int>(i));
    return by_parent;
  }

  PixelRect box(int element) const { return elements_[static_cast<std::size_t>(element)].box_px; }

  /// A letter's box in the frame of a line that runs at `angle`; straight down the page, it is read
  /// downwards.
  PixelRect box_at(int element, double angle) {
    const PixelRect b = box(element);
    if (angle == 0.0) return b;
    return angle == quarter_turn ? PixelRect{b.y, b.x, b.height, b.width}
                                 : glyphs_.turned_box(element, angle);
  }

  std::vector<Letter> letters_at(const std::vector<int>& members, double angle) {
    std::vector<Letter> letters;
    for (const int member : members) letters.push_back({member, box_at(member, angle), glyphs_.ink(member)});
    return letters;
  }

  /// What rows have to be to be taken for lines.
  struct Demand {
    bool vertical;
    std::size_t letters;
    double space;              ///< between them at most, of their height
    double share_within;       ///< of the letters: their nearest neighbour is in the row
    double slant;              ///< from end to end at most, of the tallest letter's height
    bool single_file = false;  ///< is_single_file()
  };

  void take_rows(const Demand& demand) {
    const double angle = demand.vertical ? quarter_turn : 0.0;
    const double spread = demand.vertical ? turned_spread : upright_spread;
    for (const auto& [parent, members] : left_over()) {
      Neighbourhood near(members, elements_, glyphs_);
      for (const Row& row : rows_of(letters_at(members, angle), demand.space)) {
        if (row.size() < demand.letters || !reads_as_text(row, spread) || is_slanted(row, demand.slant) ||
            near.share_within(row) < demand.share_within)
          continue;
        if (demand.single_file && !is_single_file(row)) continue;
        add_unless_pictures(row, angle, parent);
      }
    }
  }

  void take_slanted() {
    for (const auto& [parent, members] : left_over())
      for (const SlantedLine& line : slanted_lines(members, elements_, glyphs_))
        add_unless_pictures(line.row, line.angle, parent);
  }

  void take_arcs() {
    for (const auto& [parent, members] : left_over())
      for (const std::vector<int>& word : arcs(members, elements_, glyphs_)) add_heap(word, parent);
  }

  void take_written_words() {
    for (const auto& [parent, members] : left_over())
      for (const std::vector<int>& word : written_words(members, elements_, glyphs_)) add_heap(word, parent);
  }

  void take_short_words() {
    for (const auto& [parent, members] : left_over())
      for (const SlantedLine& word : short_words(members, elements_, glyphs_))
        add_unless_pictures(word.row, word.angle, parent);
  }

  /// A line that runs the way in which it is longer.
  void add_heap(const std::vector<int>& heap, int parent) {
    PixelRect whole = box(heap.front());
    for (const int member : heap) whole = united(whole, box(member));
    const double angle = whole.height > whole.width ? quarter_turn : 0.0;
    Row row = letters_at(heap, angle);
    sort_along(row);
    add_unless_pictures(row, angle, parent);
  }

  /// Between the corners of the box round a longer line at an angle there is room for other lines.
  void add_unless_pictures(const Row& row, double angle, int parent) {
    const bool judged = angle == quarter_turn || (angle != 0.0 && row.size() == 2);
    if (!judged || !is_picture_column(row, parent, elements_, boxes_, scale_)) add_line(row, angle, parent);
  }

  void add_line(const Row& row, double angle, int parent) {
    TextLine line;
    line.vertical = std::abs(angle) > quarter_turn / 2;
    line.parent = parent;
    if (parent >= 0 && row.size() >= surely_text) carries_line_[static_cast<std::size_t>(parent)] = true;
    line.words = word_starts(row);
    line.box_px = box(row.front().element);
    for (const Letter& letter : row) {
      Element& element = elements_[static_cast<std::size_t>(letter.element)];
      line.letters.push_back(letter.element);
      line.box_px = united(line.box_px, element.box_px);
      element.matter = Matter::text;
      element.line = static_cast<int>(layout_.lines.size());
    }
    layout_.lines.push_back(std::move(line));
    angles_.push_back(angle);
  }

  /// Accents, radicals and letters that stand a little apart belong to the line whose letter they lie beside.
  void adopt_what_is_left_beside_letters() {
    std::map<int, int> taken_in;
    for (const auto& [parent, left] : left_over()) {
      std::vector<PixelRect> boxes;
      for (const int element : left) boxes.push_back(box(element));
      const BoxGrid grid(boxes);
      std::vector<int> letters;
      for (std::size_t i = 0; i < elements_.size(); ++i)
        if (elements_[i].line >= 0 && elements_[i].parent == parent) letters.push_back(static_cast<int>(i));
      for (std::size_t at = 0; at < letters.size(); ++at) {
        const int letter = letters[at];
        const double reach = beside * size_of(box(letter));
        grid.near(grown(box(letter), reach, reach), 0.0, [&, &left = left](int i) {
          const int candidate = left[static_cast<std::size_t>(i)];
          const int number = elements_[static_cast<std::size_t>(letter)].line;
          if (elements_[static_cast<std::size_t>(candidate)].line >= 0 || taken_in[number] > most_beside ||
              !lies_beside(candidate, letter))
            return;
          ++taken_in[number];
          adopt(number, candidate);
          letters.push_back(candidate);
        });
      }
    }
  }

  bool lies_beside(int candidate, int letter) {
    const double size = size_of(box(candidate)), other = size_of(box(letter));
    const double reach = size >= 0.5 * other && other >= 0.5 * size ? beside : beside_mark;
    return size <= 1.5 * other && gap_between(box(candidate), box(letter)) <= reach * other &&
           inks_alike(glyphs_.ink(candidate), glyphs_.ink(letter));
  }

  /// Words of one line that were found one by one, and parts of an arc.
  void join_pieces() {
    Groups groups(layout_.lines.size());
    for (const double angle : {0.0, quarter_turn}) join_along(angle, groups);
    join_end_to_end(groups);
    rebuild(groups.all());
  }

  /// Pieces of a line that are level may lie as far apart as they are high; columns lie farther apart.
  static double level_space(const PixelRect& a, const PixelRect& b) {
    return are_level(a, b) ? std::max(a.height, b.height) : 0.0;
  }

  void join_along(double angle, Groups& groups) {
    std::vector<PixelRect> boxes;
    std::vector<int> numbers;
    for (std::size_t i = 0; i < layout_.lines.size(); ++i)
      if (std::abs(std::remainder(angles_[i] - angle, std::numbers::pi)) <= nearly_straight) {
        const PixelRect& b = layout_.lines[i].box_px;
        boxes.push_back(angle == 0.0 ? b : PixelRect{b.y, b.x, b.height, b.width});
        numbers.push_back(static_cast<int>(i));
      }
    const BoxGrid grid(boxes);
    for (std::size_t i = 0; i < boxes.size(); ++i)
      grid.near(grown(boxes[i], boxes[i].height, 0), 0.5 * boxes[i].height, [&](int j) {
        const int one = numbers[i], other = numbers[static_cast<std::size_t>(j)];
        if (one != other && of_one_kind(one, other) &&
            pieces_of_one_line(boxes[i], boxes[static_cast<std::size_t>(j)],
                               level_space(boxes[i], boxes[static_cast<std::size_t>(j)])))
          groups.unite(one, other);
      });
  }

  /// Where the end of one line lies beside the end of another, and they do not lie over one another.
  void join_end_to_end(Groups& groups) {
    std::vector<PixelRect> boxes;
    std::vector<int> ends;
    for (const TextLine& line : layout_.lines)
      for (const int end : {line.letters.front(), line.letters.back()})
        ends.push_back(end), boxes.push_back(box(end));
    const BoxGrid grid(boxes);
    for (std::size_t i = 0; i < ends.size(); ++i) {
      const double reach = beside * size_of(boxes[i]);
      grid.near(grown(boxes[i], reach, reach), 0.0, [&](int k) {
        const auto j = static_cast<std::size_t>(k);
        const int one = static_cast<int>(i / 2), other = static_cast<int>(j / 2);
        if (one < other && lies_beside(ends[i], ends[j]) && lies_beside(ends[j], ends[i]) &&
            of_one_kind(one, other) && lie_apart(line(one), line(other)))
          groups.unite(one, other);
      });
    }
  }

  static bool lie_apart(const TextLine& a, const TextLine& b) {
    const double across = overlap(a.box_px.x, a.box_px.right(), b.box_px.x, b.box_px.right());
    const double down = overlap(a.box_px.y, a.box_px.bottom(), b.box_px.y, b.box_px.bottom());
    return a.vertical == b.vertical ? (a.vertical ? down : across) <= 0.0 : std::min(across, down) <= 0.0;
  }

  TextLine& line(int number) { return layout_.lines[static_cast<std::size_t>(number)]; }

  bool of_one_kind(int one, int other) {
    return line(one).parent == line(other).parent &&
           inks_alike(glyphs_.ink(line(one).letters.front()), glyphs_.ink(line(other).letters.front()));
  }

  void rebuild(const std::vector<std::vector<int>>& groups) {
    std::vector<TextLine> before;
    std::vector<double> angles;
    before.swap(layout_.lines), angles.swap(angles_);
    for (const std::vector<int>& group : groups) {
      const auto first = static_cast<std::size_t>(group.front());
      std::vector<int> members;
      for (const int piece : group)
        members.insert(members.end(), before[static_cast<std::size_t>(piece)].letters.begin(),
                       before[static_cast<std::size_t>(piece)].letters.end());
      Row row = letters_at(members, angles[first]);
      sort_along(row);
      add_line(row, angles[first], before[first].parent);
    }
  }

  /// Rows of dots that lead from a line to its page number, and lone letters beside a line (a section number
  /// before its heading) belong to the line.
  void adopt_leaders_and_lone_letters() {
    for (const auto& [parent, left] : left_over()) {
      std::vector<PixelRect> boxes;
      for (const int element : left) boxes.push_back(box(element));
      const BoxGrid grid(boxes);
      for (std::size_t l = 0; l < layout_.lines.size(); ++l) {
        if (layout_.lines[l].parent != parent) continue;
        for (bool grows = true; grows;) {
          grows = false;
          const PixelRect whole = layout_.lines[l].box_px, along = line_at(l);
          const double reach = std::max(scale_.px(leader_gap_mm), lone_letter_gap * along.height);
          grid.near(grown(whole, reach, angles_[l] == 0.0 ? 0.0 : reach), 0.0, [&, &left = left](int i) {
            const int candidate = left[static_cast<std::size_t>(i)];
            if (elements_[static_cast<std::size_t>(candidate)].line >= 0 || !leads_on(l, along, candidate))
              return;
            adopt(static_cast<int>(l), candidate);
            grows = true;
          });
        }
      }
    }
  }

  /// The box of a line in its own frame.
  PixelRect line_at(std::size_t number) {
    if (angles_[number] == 0.0) return layout_.lines[number].box_px;
    const std::vector<int>& letters = layout_.lines[number].letters;
    PixelRect whole = box_at(letters.front(), angles_[number]);
    for (const int letter : letters) whole = united(whole, box_at(letter, angles_[number]));
    return whole;
  }

  /// `a` is the line's box in its own frame.
  bool leads_on(std::size_t number, const PixelRect& a, int candidate) {
    const TextLine& line = layout_.lines[number];
    const PixelRect b = box_at(candidate, angles_[number]);
    if (overlap(a.y, a.bottom(), b.y, b.bottom()) < 0.8 * std::min(a.height, b.height)) return false;
    const double gap = std::max(a.x, b.x) - std::min(a.right(), b.right());
    const bool upright = angles_[number] == 0.0;
    const bool dot = upright && std::max(b.width, b.height) <= scale_.px(leader_size_mm);
    const bool letter = b.height >= 0.4 * a.height && b.height <= 1.3 * a.height && b.width <= 2.0 * b.height;
    const bool many = line.letters.size() >= surely_text;
    const double letter_gap = !upright ? lone_turned_gap : many ? lone_letter_gap : short_word_gap;
    if (!(dot && gap <= scale_.px(leader_gap_mm)) && !(letter && gap <= letter_gap * a.height)) return false;
    if (!many && !near_or_level(a, b)) return false;
    return inks_alike(glyphs_.ink(line.letters.front()), glyphs_.ink(candidate)) &&
           (dot || (many && gap <= lone_turned_gap * a.height) || of_one_pen(line.letters, candidate));
  }

  /// A mark as large as letters that stands far off, or beside two or three, is as likely an icon. What tells
  /// them apart is the width of the strokes, which letters of a word share (Epshtein, Ofek and Wexler,
  /// Detecting text in natural scenes with stroke width transform, CVPR 2010, from memory).
  bool of_one_pen(const std::vector<int>& letters, int candidate) const {
    const std::vector<int> some(letters.begin(),
                                letters.begin() + std::min(std::ssize(letters), std::ptrdiff_t{surely_text}));
    const double one = glyphs_.strokes(some).width, other = glyphs_.strokes({candidate}).width;
    if (other == 0.0) return letters.size() >= surely_text;  // boxes alone are known
    return std::max(one, other) <= like_strokes * std::min(one, other);
  }

  /// `rebuild` puts the line in order again.
  void adopt(int number, int element) {
    TextLine& to = line(number);
    Element& e = elements_[static_cast<std::size_t>(element)];
    e.line = number;
    to.box_px = united(to.box_px, e.box_px);
    to.letters.push_back(element);
  }

  std::vector<Element>& elements_;
  Glyphs& glyphs_;
  const Scale& scale_;
  BoxGrid boxes_;  ///< of the elements
  TextLayout layout_;
  bool on_page_ = false;            ///< what is looked at stands on the page's grounds, not on a box
  std::vector<bool> carries_line_;  ///< by element
  std::vector<double> angles_;      ///< of the lines, radians: 0 across the page, a quarter turn down it
};

}  // namespace

TextLayout find_text(std::vector<Element>& elements, Glyphs& glyphs, const Scale& scale) {
  return TextFinder(elements, glyphs, scale).run();
}

}  // namespace frisket
