#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "frisket/stages.hpp"

namespace frisket {

/// How long each stage of one page took; stages of the same name are one.
class Timings {
 public:
  /// Adds to this, which must outlive it.
  StageSink sink();
  /// A table: the page, then a line a stage in the order in which they first ended, and all together.
  std::string text(std::string_view page) const;

 private:
  struct Stage {
    std::string name;
    double seconds = 0;
  };
  void add(std::string_view name, double seconds);

  std::vector<Stage> stages_;
};

}  // namespace frisket
