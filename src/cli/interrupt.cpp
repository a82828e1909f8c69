#include "cli/interrupt.hpp"

#include <csignal>

namespace frisket {
namespace {

volatile std::sig_atomic_t was_interrupted = 0;

void note_interrupt(int) { was_interrupted = 1; }

void note(int signal) {
  struct sigaction action = {};
  action.sa_handler = note_interrupt;
  action.sa_flags = static_cast<int>(SA_RESETHAND);
  sigemptyset(&action.sa_mask);
  sigaction(signal, &action, nullptr);
}

}  // namespace

void catch_interrupts() { note(SIGINT); }

void take_interrupts_from_parent() {
  // A terminal sends SIGINT to the whole group: a child that took it too would hear of it twice.
  std::signal(SIGINT, SIG_IGN);
  note(SIGTERM);
}

bool interrupted() { return was_interrupted != 0; }

}  // namespace frisket
