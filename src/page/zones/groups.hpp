#pragma once

#include <map>
#include <numeric>
#include <vector>

namespace frisket {

/// Things 0 to n - 1, put together pair by pair (union-find).
class Groups {
 public:
  explicit Groups(std::size_t n = 0) : parent_(n) { std::iota(parent_.begin(), parent_.end(), 0); }

  std::size_t size() const { return parent_.size(); }
  /// One thing more, by itself; returns its number.
  int add() {
    parent_.push_back(static_cast<int>(parent_.size()));
    return parent_.back();
  }

  int root(int i) {
    while (parent_[i] != i) i = parent_[i] = parent_[parent_[i]];
    return i;
  }
  /// The smaller root stays, so that groups come in the order of their first members; returns it.
  int unite(int a, int b) {
    a = root(a), b = root(b);
    return parent_[std::max(a, b)] = std::min(a, b);
  }
  /// Members of each group in rising order; the groups in order of their first members.
  std::vector<std::vector<int>> all() {
    std::map<int, std::vector<int>> by_root;
    for (int i = 0; i < static_cast<int>(parent_.size()); ++i) by_root[root(i)].push_back(i);
    std::vector<std::vector<int>> groups;
    for (auto& [first, members] : by_root) groups.push_back(std::move(members));
    return groups;
  }

 private:
  std::vector<int> parent_;
};

}  // namespace frisket
