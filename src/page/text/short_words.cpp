#include "page/text/short_words.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "page/text/letter_rows.hpp"
#include "page/text/neighbourhood.hpp"

namespace frisket {
namespace {

constexpr double clump_reach = 0.5;   // of the smaller letter's size
constexpr double letter_space = 0.4;  // of the letters' height
constexpr double line_spread =
    1.25;                            // height of the word, of its taller letter: one may hang below the other
constexpr double least_ratio = 0.5;  // of the lower letter's height to the taller's: o beside N
constexpr float one_ink = 16.0F;     // levels: parts of a drawing are often of two
constexpr std::size_t most_members = 3;
constexpr int step_degrees = 5;

bool of_one_ink(const std::vector<int>& clump, Glyphs& glyphs) {
  const Ink first = glyphs.ink(clump.front());
  return std::ranges::all_of(clump, [&](int member) {
    const Ink ink = glyphs.ink(member);
    return ink.known && first.known && colour_step(ink.colour, first.colour) <= one_ink;
  });
}

/// The clump as two letters of a line at that angle, where it can be read so.
std::optional<Row> word_at(const std::vector<int>& clump, double angle, Glyphs& glyphs) {
  std::vector<Letter> letters;
  for (const int member : clump)
    letters.push_back({member, glyphs.turned_box(member, angle), glyphs.ink(member)});
  std::vector<Row> rows = rows_of(letters, letter_space);
  if (rows.size() != 1 || rows.front().size() != clump.size()) return std::nullopt;
  const Row tall = tall_ones(rows.front());
  if (tall.size() != 2 || !reads_as_text(rows.front(), line_spread) || !is_single_file(rows.front()))
    return std::nullopt;
  const double one = tall[0].box.height, other = tall[1].box.height;
  if (std::min(one, other) < least_ratio * std::max(one, other)) return std::nullopt;
  return std::move(rows.front());
}

std::optional<SlantedLine> word_of(const std::vector<int>& clump, Glyphs& glyphs) {
  std::optional<SlantedLine> word;
  double least = INFINITY;
  for (int degrees = -85; degrees <= 90; degrees += step_degrees) {
    const double angle = degrees * std::numbers::pi / 180.0;
    std::optional<Row> row = word_at(clump, angle, glyphs);
    if (!row) continue;
    const PixelRect box = box_of(*row);
    if (box.width * box.height >= least) continue;
    least = box.width * box.height;
    word = SlantedLine{std::move(*row), angle};
  }
  return word;
}

}  // namespace

std::vector<SlantedLine> short_words(const std::vector<int>& members, const std::vector<Element>& elements,
                                     Glyphs& glyphs) {
  std::vector<SlantedLine> words;
  for (const std::vector<int>& clump : Neighbourhood(members, elements, glyphs).clumps(clump_reach)) {
    const bool runs_off = std::ranges::any_of(
        clump, [&](int member) { return elements[static_cast<std::size_t>(member)].touches_canvas; });
    if (clump.size() < 2 || clump.size() > most_members || runs_off || !of_one_ink(clump, glyphs)) continue;
    if (std::optional<SlantedLine> word = word_of(clump, glyphs)) words.push_back(std::move(*word));
  }
  return words;
}

}  // namespace frisket
