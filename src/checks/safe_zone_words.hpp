#pragma once

#include <optional>
#include <string>

#include "frisket/check.hpp"
#include "frisket/page.hpp"

// How the safe zone's findings are worded, and which of them a person is to judge.
namespace frisket {

/// What stands in a corner is too near to a second edge, and has two ways to go.
struct SecondEdge {
  Edge edge;
  Length distance;  ///< inside the trim; negative: past it
};

/// Lines of one block, or one thing, told together.
struct Together {
  int count = 0;
  std::optional<SecondEdge> corner = std::nullopt;
};

/// Words for findings whose kind, edge, measured and required lengths are known.
struct SafeZoneWords {
  const Job& job;
  Length cut_tolerance;
  Length noise;  ///< positions are good to this

  /// Sets severity, message and advice.
  void say(Finding& finding, Matter matter, const Together& lines) const;

 private:
  void say_frame(Finding& finding, const std::string& edge, const std::string& move) const;
  std::string second_place(const std::optional<SecondEdge>& corner) const;
  std::string second_way(const std::optional<SecondEdge>& corner) const;
};

}  // namespace frisket
