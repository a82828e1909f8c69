#include "cli/allowance.hpp"

#include <cmath>
#include <ctime>

namespace frisket {
namespace {

constexpr double patience = 20;  // times the processor time: what a loaded machine may need

/// Of all threads of a process; 0 where it cannot be asked.
double processor_seconds(pid_t process) {
  clockid_t clock{};
  timespec spent{};
  if (clock_getcpuclockid(process, &clock) != 0 || clock_gettime(clock, &spent) != 0) return 0;
  return static_cast<double>(spent.tv_sec) + static_cast<double>(spent.tv_nsec) * 1e-9;
}

}  // namespace

Allowance::Allowance(pid_t process, double seconds)
    : process_(process),
      seconds_(seconds),
      spent_before_(processor_seconds(process)),
      begun_(std::chrono::steady_clock::now()) {}

bool Allowance::used_up() const {
  const std::chrono::duration<double> waited = std::chrono::steady_clock::now() - begun_;
  return processor_seconds(process_) - spent_before_ > seconds_ || waited.count() > patience * seconds_;
}

std::string Allowance::sentence() const {
  return "its inspection took more than " + std::to_string(std::lround(seconds_)) +
         " s and was given up; export it simpler (flattened, without hidden parts) or allow more with "
         "--most-seconds";
}

}  // namespace frisket
