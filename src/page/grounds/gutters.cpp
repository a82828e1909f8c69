#include "page/grounds/gutters.hpp"

#include <algorithm>

namespace frisket {
namespace {

constexpr int column_rows = 3;     // a column has at least so many
constexpr int rows_beside_it = 2;  // and what stands beside one
constexpr Length widest_gutter = Length::from_mm(20.0);
constexpr double title_slenderness = 2.0;
constexpr double tall_share = 0.45;     // of the line's tallest letter: dots and accents make no rows
constexpr double one_row = 0.5;         // of a row's height, by which letters of one row lie over one another
constexpr double leading = 2.2;         // largest gap between rows of a column, of the lower one's height
constexpr double straight = 0.35;       // of a row's height: how far its end may stray from a straight side
constexpr double shared_measure = 0.3;  // of the shorter column

/// A letter, then a row of letters, as seen from the fold.
struct Row {
  Length low, high;     ///< across the fold
  Length first, last;   ///< along it
  bool parted = false;  ///< lies on one side of the fold of a line that was read across it
  bool blocks = false;  ///< belongs to a line that the fold cuts a letter of

  Length height() const { return last - first; }
};

struct Column {
  Row whole;
  std::vector<Row> rows;
};

Row row_of(const Rect& box, bool vertical) {
  return vertical ? Row{box.left(), box.right(), box.top(), box.bottom()}
                  : Row{box.top(), box.bottom(), box.left(), box.right()};
}

void take_in(Row& whole, const Row& part) {
  whole.low = std::min(whole.low, part.low), whole.high = std::max(whole.high, part.high);
  whole.first = std::min(whole.first, part.first), whole.last = std::max(whole.last, part.last);
  whole.parted |= part.parted, whole.blocks |= part.blocks;
}

/// Letters before the fold and after it.
struct Sides {
  std::vector<Row> before, after;
};

void add_letters(const Page& page, const TextLine& line, Length at, bool vertical, Sides& sides) {
  const Row whole = row_of(line.box, vertical);
  if (whole.high < at - widest_gutter || whole.low > at + widest_gutter) return;
  // A title that runs along the fold is no column of its letters.
  if (line.vertical == vertical && whole.height() > title_slenderness * (whole.high - whole.low)) return;
  std::vector<Row> letters;
  Length tallest;
  for (const int letter : line.letters) {
    letters.push_back(row_of(page.elements[static_cast<std::size_t>(letter)].box, vertical));
    tallest = std::max(tallest, letters.back().height());
  }
  const bool cut =
      std::ranges::any_of(letters, [&](const Row& letter) { return letter.low < at && letter.high > at; });
  for (Row& letter : letters) {
    if (letter.height() < tall_share * tallest) continue;
    letter.parted = whole.low < at && whole.high > at, letter.blocks = cut;
    (letter.high <= at || cut ? sides.before : sides.after).push_back(letter);
    if (cut) sides.after.push_back(letter);
  }
}

std::vector<Row> rows_of(std::vector<Row> letters) {
  std::ranges::stable_sort(letters, {}, &Row::first);
  std::vector<Row> rows;
  for (const Row& letter : letters)
    if (!rows.empty() &&
        rows.back().last - letter.first >= one_row * std::min(letter.height(), rows.back().height()))
      take_in(rows.back(), letter);
    else
      rows.push_back(letter);
  return rows;
}

/// Rows close above one another, taken from one end of the fold to the other.
std::vector<Column> columns_of(const std::vector<Row>& rows) {
  std::vector<Column> columns;
  bool open = false;
  for (const Row& row : rows) {
    if (row.blocks) {
      open = false;
      continue;
    }
    if (open && row.first - columns.back().whole.last <=
                    leading * std::min(row.height(), columns.back().rows.back().height())) {
      take_in(columns.back().whole, row);
      columns.back().rows.push_back(row);
    } else {
      columns.push_back({row, {row}});
    }
    open = true;
  }
  std::erase_if(columns, [](const Column& column) { return std::ssize(column.rows) < rows_beside_it; });
  return columns;
}

bool is_straight(const Column& column, bool before) {
  return std::ranges::all_of(column.rows, [&](const Row& row) {
    return (before ? column.whole.high - row.high : row.low - column.whole.low) <= straight * row.height();
  });
}

bool lie_beside(const Column& before, const Column& after) {
  if (std::max(std::ssize(before.rows), std::ssize(after.rows)) < column_rows) return false;
  const Row &a = before.whole, &b = after.whole;
  const Length shared = std::min(a.last, b.last) - std::max(a.first, b.first);
  if (b.low - a.high > widest_gutter || shared < shared_measure * std::min(a.height(), b.height()))
    return false;
  return !(a.parted || b.parted) || is_straight(before, true) || is_straight(after, false);
}

}  // namespace

std::vector<Rect> word_boxes(const Page& page, const TextLine& line) {
  std::vector<Rect> words(line.words.size());
  std::size_t word = 0;
  for (std::size_t i = 0; i < line.letters.size(); ++i) {
    if (word + 1 < words.size() && static_cast<int>(i) == line.words[word + 1]) ++word;
    words[word] = united(words[word], page.elements[static_cast<std::size_t>(line.letters[i])].box);
  }
  return words;
}

std::vector<Gutter> gutters_at(const Page& page, Length at, bool vertical) {
  Sides sides;
  for (const TextLine& line : page.lines) add_letters(page, line, at, vertical, sides);
  const std::vector<Column> after = columns_of(rows_of(sides.after));
  std::vector<Gutter> gutters;
  for (const Column& one : columns_of(rows_of(sides.before)))
    for (const Column& other : after)
      if (lie_beside(one, other))
        gutters.push_back({std::min(one.whole.first, other.whole.first),
                           std::max(one.whole.last, other.whole.last), one.whole.high, other.whole.low});
  return gutters;
}

}  // namespace frisket
