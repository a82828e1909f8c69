#pragma once

#include <sys/types.h>

#include <chrono>
#include <string>

namespace frisket {

/// How long a child process may work on one piece: in processor time, so that a busy machine fails no page;
/// and many times that by the clock, for one that waits and never gets on.
class Allowance {
 public:
  Allowance() = default;
  Allowance(pid_t process, double seconds);

  bool used_up() const;
  /// What to tell of the piece.
  std::string sentence() const;

 private:
  pid_t process_ = -1;
  double seconds_ = 0;
  double spent_before_ = 0;  ///< processor seconds of the process on earlier pieces
  std::chrono::steady_clock::time_point begun_{};
};

}  // namespace frisket
