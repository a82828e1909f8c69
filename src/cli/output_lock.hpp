#pragma once

#include <filesystem>
#include <optional>
#include <vector>

#include "frisket/report.hpp"

namespace frisket {

/// Holds a folder for one run. The system lets go of it when the run ends, however it ends; a lock file that
/// was left behind keeps nobody out. Parts of one divided run may share a folder.
class OutputLock {
 public:
  /// Throws Error where another run holds the folder, which must exist. `part`: of a divided run.
  OutputLock(const std::filesystem::path& folder, const std::optional<Shard>& part);
  /// Removes the lock files where nobody else holds them.
  ~OutputLock();
  OutputLock(const OutputLock&) = delete;
  OutputLock& operator=(const OutputLock&) = delete;

 private:
  struct File {
    std::filesystem::path path;
    int descriptor = -1;
  };
  void hold(const std::filesystem::path& file, bool shared, const std::filesystem::path& folder);

  std::vector<File> held_;
};

/// Removes half-written files that a killed run left directly in `folder`. Only under a lock of its own.
void remove_leftovers(const std::filesystem::path& folder);

}  // namespace frisket
