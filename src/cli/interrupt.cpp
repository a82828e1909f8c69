#include "cli/interrupt.hpp"

#include <csignal>

namespace frisket {
namespace {

volatile std::sig_atomic_t was_interrupted = 0;

void note_interrupt(int) { was_interrupted = 1; }

}  // namespace

void catch_interrupts() {
  struct sigaction action = {};
  action.sa_handler = note_interrupt;
  action.sa_flags = static_cast<int>(SA_RESETHAND);
  sigemptyset(&action.sa_mask);
  sigaction(SIGINT, &action, nullptr);
}

bool interrupted() { return was_interrupted != 0; }

}  // namespace frisket
