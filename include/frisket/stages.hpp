#pragma once

#include <functional>
#include <string_view>

namespace frisket {

/// Told of each stage of a page as it ends, in their order: its name, and the seconds it took by the wall
/// clock. What is found does not depend on it.
using StageSink = std::function<void(std::string_view stage, double seconds)>;

/// Cuts the time of a page into stages, each beginning where the one before it ended. Costs nothing without a
/// sink.
class StageClock {
 public:
  /// The first stage begins now. `sink` may be empty and must outlive the clock.
  explicit StageClock(const StageSink& sink);
  void end(std::string_view stage);
  /// The next stage begins now: what went before was told by another clock.
  void start();

 private:
  const StageSink& sink_;
  double began_ = 0;  ///< seconds of a clock that never goes back
};

}  // namespace frisket
