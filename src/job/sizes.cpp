#include "frisket/sizes.hpp"

#include <algorithm>
#include <cctype>

#include "job/size_table.hpp"

namespace frisket {
namespace {

Size turned(const Size& size) { return {size.height, size.width}; }

/// Takes `word` off the end of `name`, whatever its case, where it stands alone.
bool take_last_word(std::string_view& name, std::string_view word) {
  while (name.ends_with(' ')) name.remove_suffix(1);
  if (name.size() <= word.size()) return false;
  const std::size_t start = name.size() - word.size();
  const auto same = [](char a, char b) { return std::tolower(static_cast<unsigned char>(a)) == b; };
  if (name[start - 1] != ' ' || !std::ranges::equal(name.substr(start), word, same)) return false;
  name = name.substr(0, start);
  return true;
}

/// How far `size` is from `named` on the worse axis.
Length distance(const Size& size, const Size& named) {
  return std::max(abs(size.width - named.width), abs(size.height - named.height));
}

}  // namespace

std::optional<Size> find_named_size(std::string_view name) {
  const bool landscape = take_last_word(name, "landscape");
  const bool portrait = !landscape && take_last_word(name, "portrait");
  const TableSize* found = find_table_size(name);
  if (found == nullptr) return std::nullopt;
  const Size size = found->named.size;
  const bool upright = size.width <= size.height;
  return (landscape && upright) || (portrait && !upright) ? turned(size) : size;
}

std::vector<SizeMatch> match_named_sizes(Size size, Length tolerance) {
  struct Candidate {
    SizeMatch match;
    Length off;
  };
  std::vector<Candidate> near;
  for (const TableSize& known : size_table()) {
    const Length upright = distance(size, known.named.size), lying = distance(turned(size), known.named.size);
    if (std::min(upright, lying) <= tolerance)
      near.push_back({{known.named, lying < upright}, std::min(upright, lying)});
  }
  // Stable: of names for one size the more familiar one stays first.
  std::ranges::stable_sort(near, {}, &Candidate::off);
  std::vector<SizeMatch> matches;
  for (Candidate& candidate : near) matches.push_back(std::move(candidate.match));
  return matches;
}

}  // namespace frisket
