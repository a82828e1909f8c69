#include "job/nearest.hpp"

#include <algorithm>
#include <cctype>
#include <numeric>

namespace frisket {
namespace {

bool same_letter(char a, char b) {
  return std::tolower(static_cast<unsigned char>(a)) == std::tolower(static_cast<unsigned char>(b));
}

/// Letters to insert, drop or change to make `a` into `b` (Levenshtein 1966), whatever their case.
std::size_t letters_apart(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 0; i < a.size(); ++i) {
    std::size_t diagonal = row[0];
    row[0] = i + 1;
    for (std::size_t j = 0; j < b.size(); ++j) {
      const std::size_t changed = diagonal + (same_letter(a[i], b[j]) ? 0 : 1);
      diagonal = row[j + 1];
      row[j + 1] = std::min({changed, row[j] + 1, row[j + 1] + 1});
    }
  }
  return row.back();
}

}  // namespace

std::optional<std::string> nearest(std::string_view word, const std::vector<std::string>& known) {
  std::optional<std::string> best;
  std::size_t fewest = word.size();
  for (const std::string& candidate : known) {
    const std::size_t longer = std::max(word.size(), candidate.size());
    if (longer > 3 * (candidate.size() + 1)) continue;  // far longer than the candidate: no use in counting
    const std::size_t apart = letters_apart(word, candidate);
    if (5 * apart <= 2 * longer && (!best || apart < fewest)) best = candidate, fewest = apart;
  }
  return best;
}

std::string nearest_hint(std::string_view word, const std::vector<std::string>& known) {
  if (const auto meant = nearest(word, known)) return "did you mean \"" + *meant + "\"?";
  std::string list;
  for (const std::string& name : known) list += (list.empty() ? "" : ", ") + name;
  return "known are " + list;
}

}  // namespace frisket
