#include "cli/memory_bound.hpp"

#include <malloc.h>
#include <sys/resource.h>
#include <unistd.h>

#include <algorithm>
#include <fstream>

#include "cli/memory_budget.hpp"

namespace frisket {
namespace {

constexpr std::uint64_t decoder_bytes = 300'000'000;
constexpr std::uint64_t times_the_need = 3;  // the need is an average of pages; none has taken twice as much

/// Bytes that the process has for data: what the bound is counted by (proc(5), statm, the sixth number).
std::uint64_t data_bytes() {
  std::ifstream numbers("/proc/self/statm");
  std::uint64_t size = 0, resident = 0, shared = 0, text = 0, library = 0, data = 0;
  numbers >> size >> resident >> shared >> text >> library >> data;
  return data * static_cast<std::uint64_t>(sysconf(_SC_PAGESIZE));
}

}  // namespace

void bound_memory_for(std::int64_t pixels) {
  rlimit bound{};
  if (getrlimit(RLIMIT_DATA, &bound) != 0) return;
  const std::uint64_t machine = default_memory() / 5 * 9;  // nine tenths: default_memory() is half of it
  const std::uint64_t wanted =
      data_bytes() + std::min(decoder_bytes + times_the_need * memory_need_of(pixels), machine);
  bound.rlim_cur = bound.rlim_max == RLIM_INFINITY || wanted < bound.rlim_max ? wanted : bound.rlim_max;
  setrlimit(RLIMIT_DATA, &bound);  // where it cannot be set, the system's own bounds have to do
}

void give_back_large_blocks() {
  constexpr int large = 4'000'000;
  mallopt(M_MMAP_THRESHOLD, large);
}

}  // namespace frisket
