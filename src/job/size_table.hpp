#pragma once

#include <string_view>
#include <vector>

#include "frisket/sizes.hpp"

namespace frisket {

/// A named size and the unit that its standard gives it in.
struct TableSize {
  NamedSize named;
  Unit unit;
};

/// Names used by people first (ISO, JIS, ANSI, cards, envelopes), then those PWG 5101.1 names that add a
/// size. Made once.
const std::vector<TableSize>& size_table();

/// The entry that `name` stands for, PWG names included, without "landscape" or "portrait"; null where
/// there is none. Case, spaces, hyphens, underscores and slashes do not matter.
const TableSize* find_table_size(std::string_view name);

/// A name of a size apart from the word for how it lies.
struct LyingName {
  std::string_view name;
  bool landscape = false, portrait = false;
};
/// Takes "landscape" or "portrait" off the end of `name`, whatever its case.
LyingName split_lie(std::string_view name);

}  // namespace frisket
