#include "frisket/sizes.hpp"

#include <algorithm>

#include "job/size_table.hpp"

namespace frisket {
namespace {

Size turned(const Size& size) { return {size.height, size.width}; }

/// How far `size` is from `named` on the worse axis.
Length distance(const Size& size, const Size& named) {
  return std::max(abs(size.width - named.width), abs(size.height - named.height));
}

}  // namespace

std::optional<Size> find_named_size(std::string_view name) {
  const LyingName lying = split_lie(name);
  const TableSize* found = find_table_size(lying.name);
  if (found == nullptr) return std::nullopt;
  const Size size = found->named.size;
  const bool upright = size.width <= size.height;
  return (lying.landscape && upright) || (lying.portrait && !upright) ? turned(size) : size;
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
