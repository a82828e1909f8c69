#pragma once

#include <sys/types.h>

#include <cstddef>
#include <functional>
#include <string>
#include <vector>

#include "cli/allowance.hpp"

namespace frisket {

/// Child processes that work on numbered pieces. Processes, not threads: a decoder that crashes on a damaged
/// file ends its own process and the run goes on; and libvips keeps one error text for a whole process.
///
/// The process that makes a crew must have one thread only, and leave decoding to the children.
class Crew {
 public:
  /// What became of one piece.
  struct Done {
    std::size_t piece = 0;
    std::string answer;
    bool crashed = false;  ///< then `answer` says how
  };
  /// Made in a child: a piece's number in, an answer out. Must not throw.
  using Work = std::function<std::string(std::size_t piece)>;

  /// Children are made when they are needed, `hands` (1 or more) at most.
  Crew(std::size_t hands, Work work) : hands_(hands), work_(std::move(work)) {}
  /// Ends the children, those at work as well.
  ~Crew();
  Crew(const Crew&) = delete;
  Crew& operator=(const Crew&) = delete;

  bool has_free_hand() const { return working() < hands_; }
  std::size_t working() const;
  /// Sets a free hand to work. It is ended where it takes more than `seconds` of processor time, or many
  /// times as long without getting on. Throws Error where the system makes no process.
  void give(std::size_t piece, double seconds);
  /// The pieces that are done, after waiting until there is one, a signal came or `timeout_ms` passed.
  std::vector<Done> wait(int timeout_ms);
  /// Tells the children that the run was interrupted.
  void interrupt();

 private:
  struct Hand {
    pid_t process = -1;
    int line = -1;  ///< a socket
    bool busy = false;
    std::size_t piece = 0;
    Allowance allowance{};
  };

  Hand& free_hand();
  void start(Hand& hand);
  [[noreturn]] void serve(int line) const;
  Done collect(Hand& hand);
  static Done give_up(Hand& hand);
  static std::string end_of(Hand& hand);

  std::size_t hands_;
  Work work_;
  std::vector<Hand> crew_;
};

}  // namespace frisket
