#include <algorithm>

#include "frisket/check.hpp"
#include "frisket/error.hpp"

namespace frisket {
namespace {

/// "a, b or c".
std::string choices(std::span<const std::string_view> names) {
  std::string text;
  for (std::size_t i = 0; i < names.size(); ++i)
    text += (i == 0 ? "" : i + 1 == names.size() ? " or " : ", ") + std::string(names[i]);
  return text;
}

std::vector<std::string_view> check_names() {
  std::vector<std::string_view> names;
  for (const Check& check : all_checks()) names.push_back(check.name);
  return names;
}

void require_one_of(std::span<const std::string_view> names, const std::string& value,
                    const std::string& key) {
  if (std::ranges::find(names, value) == names.end())
    throw Error("\"" + key + "\" is \"" + value + "\"; expected " + choices(names) +
                ", as the findings file has it");
}

}  // namespace

void require_known_kinds(const Job& job) {
  for (std::size_t i = 0; i < job.accepted.size(); ++i) {
    const std::string key = "accepted[" + std::to_string(i) + "].";
    require_one_of(check_names(), job.accepted[i].check, key + "check");
    const auto check = std::ranges::find(all_checks(), job.accepted[i].check, &Check::name);
    require_one_of(check->kinds, job.accepted[i].kind, key + "kind");
  }
}

}  // namespace frisket
