#pragma once

#include <chrono>
#include <cstddef>
#include <string>

namespace frisket {

/// "12 of 400 pages, 31 findings, 2.5 pages/s, 2 min 35 s left".
std::string progress_text(std::size_t done, std::size_t of, int findings, double seconds);

/// A line on stderr that says how far a run is; nothing unless stderr is a terminal. Gone at its end.
class Progress {
 public:
  explicit Progress(std::size_t pages) : pages_(pages) {}
  ~Progress() { clear(); }
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;

  /// Some times a second at most.
  void show(std::size_t done, int findings);
  /// Makes room for other lines.
  void clear();

 private:
  using Clock = std::chrono::steady_clock;

  std::size_t pages_;
  Clock::time_point start_ = Clock::now(), shown_{};
  bool visible_ = false;
};

}  // namespace frisket
