#include "cli/memory_budget.hpp"

#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <fstream>

#include "frisket/error.hpp"

namespace frisket {
namespace {

constexpr std::uint64_t megabyte = 1'000'000;
/// What a process needs before it has opened a page.
constexpr std::uint64_t process_bytes = 60 * megabyte;
/// Of pixels and maps while a page is analysed. 5 to 9 were measured on ordinary pages of 9 to 139
/// megapixels, 21 on one of 100,000 specks.
constexpr std::uint64_t bytes_per_pixel = 25;

double unit_called(std::string unit) {
  std::ranges::transform(unit, unit.begin(), [](char c) { return static_cast<char>(std::toupper(c)); });
  if (unit == "MB") return 1e6;
  if (unit == "GB") return 1e9;
  if (unit == "MIB") return 1024.0 * 1024.0;
  if (unit == "GIB") return 1024.0 * 1024.0 * 1024.0;
  return 0;
}

}  // namespace

std::uint64_t memory_need_of(std::int64_t pixels) {
  return static_cast<std::uint64_t>(pixels) * bytes_per_pixel;
}

MemoryBudget::MemoryBudget(std::uint64_t bytes, std::size_t jobs)
    : jobs_(std::clamp<std::size_t>(bytes / (2 * process_bytes), 1, jobs)) {
  free_for_pages_ = bytes - std::min(bytes, jobs_ * process_bytes);
}

bool MemoryBudget::fits(std::int64_t pixels) const {
  return working_ == 0 || used_ + memory_need_of(pixels) <= free_for_pages_;
}

void MemoryBudget::take(std::int64_t pixels) {
  used_ += memory_need_of(pixels);
  ++working_;
}

void MemoryBudget::give_back(std::int64_t pixels) {
  used_ -= memory_need_of(pixels);
  --working_;
}

std::uint64_t parse_memory(const std::string& text) {
  std::size_t read = 0;
  double value = 0;
  try {
    value = std::stod(text, &read);
  } catch (const std::exception&) {
    read = 0;
  }
  const std::size_t unit = std::min(text.find_first_not_of(' ', read), text.size());
  const double bytes = value * unit_called(text.substr(unit));
  if (read == 0 || !std::isfinite(bytes) || bytes < 64e6 || bytes > 1e15)
    throw Error("--memory is '" + text + "'; expected 64 MB or more, like 800MB or 2GB");
  return static_cast<std::uint64_t>(bytes);
}

std::uint64_t default_memory() {
  const double machine =
      static_cast<double>(sysconf(_SC_PHYS_PAGES)) * static_cast<double>(sysconf(_SC_PAGESIZE));
  double group = machine;
  std::ifstream("/sys/fs/cgroup/memory.max") >> group;  // "max" where there is no bound
  const double least = 64e6;
  return static_cast<std::uint64_t>(std::max(least, (group > 0 ? std::min(machine, group) : machine) / 2));
}

}  // namespace frisket
