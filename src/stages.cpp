#include "frisket/stages.hpp"

#include <chrono>

namespace frisket {
namespace {

double now() {
  return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

}  // namespace

StageClock::StageClock(const StageSink& sink) : sink_(sink) { start(); }

void StageClock::start() {
  if (sink_) began_ = now();
}

void StageClock::end(std::string_view stage) {
  if (!sink_) return;
  const double ended = now();
  sink_(stage, ended - began_);
  began_ = ended;
}

}  // namespace frisket
