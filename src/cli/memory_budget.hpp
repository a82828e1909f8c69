#pragma once

#include <cstdint>
#include <string>

namespace frisket {

/// Bytes that the pages at work may take together.
class MemoryBudget {
 public:
  /// `bytes` for up to `jobs` pages at a time.
  MemoryBudget(std::uint64_t bytes, std::size_t jobs);

  /// How many pages may be at work at all: each process needs some memory of its own.
  std::size_t jobs() const { return jobs_; }
  /// Whether a page of `pixels` fits beside those at work. A page alone always fits: it is inspected, be it
  /// larger than the budget or not.
  bool fits(std::int64_t pixels) const;
  void take(std::int64_t pixels);
  void give_back(std::int64_t pixels);

 private:
  std::uint64_t free_for_pages_, used_ = 0;
  std::size_t jobs_, working_ = 0;
};

/// Bytes that a page of `pixels` needs while it is inspected.
std::uint64_t memory_need_of(std::int64_t pixels);
/// Reads "2GB", "800MB" or "1.5 GiB": bytes, 64 MB or more. Throws Error.
std::uint64_t parse_memory(const std::string& text);
/// Half of the memory of the machine, or of what a control group leaves to the program.
std::uint64_t default_memory();

}  // namespace frisket
