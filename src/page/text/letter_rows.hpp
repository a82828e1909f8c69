#pragma once

#include <vector>

#include "page/text/glyphs.hpp"

namespace frisket {

/// A letter-sized element, its box turned so that the line it may belong to runs along x.
struct Letter {
  int element;
  PixelRect box;
  Ink ink;
};

/// Letters of a line, in order along it.
using Row = std::vector<Letter>;

/// Groups letters into rows: neighbours overlap across the row, are of like size and no farther apart than a
/// generous word space; a column gutter is wider. What is farther apart than letters of a word has to be of
/// one ink too. `word_space` is the largest gap between letters, of their height. The grouping follows the
/// nearest-neighbour clustering of O'Gorman, The document spectrum for page layout analysis, IEEE TPAMI
/// 15(11), 1993 (from memory), with letter boxes in place of centroids. Rows of one letter are left out.
std::vector<Row> rows_of(const std::vector<Letter>& letters, double word_space);

PixelRect box_of(const Row& row);
double tallest_of(const Row& row);
/// Between two letters that follow one another, of two or more.
double widest_gap(const Row& row);
/// The letters that are no stops, accents or hyphens: not much lower than the tallest.
Row tall_ones(const Row& row);
int tall_letters(const Row& row);
/// Where in the row words begin: at gaps wider than those between letters.
std::vector<int> word_starts(const Row& row);
/// How far the row climbs or falls from one end to the other, px.
double drift_of(const Row& row);

/// Two dots and a bar are no text: at least two letters of like height that do not lie over one another, in a
/// line no higher than `spread` of its tallest letter.
bool reads_as_text(const Row& row, double spread);
/// Does it climb or fall, from end to end, by more than `share` of its tallest letter's height? Letters of a
/// level line differ by less.
bool is_slanted(const Row& row, double share = 0.6);
/// Are its letters far narrower, along it, than high? Words under one another rather than letters of a word.
bool is_stack(const Row& row);
/// Do its letters follow one another in single file, each about as wide as high? Words that lie under one
/// another do not, seen down the page.
bool is_single_file(const Row& row);
void sort_along(Row& row);

/// Do they stand on one baseline, or hang from one top?
bool are_level(const PixelRect& a, const PixelRect& b);
/// Two things far apart, as words seldom are, may be of one line where they are level; of many letters in a
/// row, neighbours need not be.
bool near_or_level(const PixelRect& a, const PixelRect& b);

/// Pieces of one line that were set with wide word spaces, up to `space` (px) where letters are spaced.
bool pieces_of_one_line(const PixelRect& a, const PixelRect& b, double space = 0);

}  // namespace frisket
