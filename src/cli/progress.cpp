#include "cli/progress.hpp"

#include <unistd.h>

#include <array>
#include <cmath>
#include <cstdio>
#include <iostream>

namespace frisket {
namespace {

bool on_terminal() {
  static const bool terminal = isatty(STDERR_FILENO) == 1;
  return terminal;
}

std::string duration_text(double seconds) {
  const long whole = std::lround(std::ceil(seconds));
  if (whole < 60) return std::to_string(whole) + " s";
  if (whole < 3600) return std::to_string(whole / 60) + " min " + std::to_string(whole % 60) + " s";
  return std::to_string(whole / 3600) + " h " + std::to_string(whole % 3600 / 60) + " min";
}

}  // namespace

std::string progress_text(std::size_t done, std::size_t of, int findings, double seconds) {
  std::string text = std::to_string(done) + " of " + std::to_string(of) + " pages, " +
                     std::to_string(findings) + (findings == 1 ? " finding" : " findings");
  if (done == 0 || seconds <= 0) return text;
  const double rate = static_cast<double>(done) / seconds;
  std::array<char, 32> speed{};
  std::snprintf(speed.data(), speed.size(), ", %.*f pages/s", rate < 10 ? 1 : 0, rate);
  return text + speed.data() + ", " + duration_text(static_cast<double>(of - done) / rate) + " left";
}

void Progress::show(std::size_t done, int findings) {
  constexpr std::chrono::milliseconds pause{200};
  const Clock::time_point now = Clock::now();
  if (!on_terminal() || (visible_ && now - shown_ < pause)) return;
  const double seconds = std::chrono::duration<double>(now - start_).count();
  std::cerr << "\r\x1b[K" << progress_text(done, pages_, findings, seconds) << std::flush;
  shown_ = now;
  visible_ = true;
}

void Progress::clear() {
  if (visible_) std::cerr << "\r\x1b[K" << std::flush;
  visible_ = false;
}

}  // namespace frisket
