#pragma once

#include <filesystem>
#include <map>
#include <optional>
#include <string>

#include "cli/job_arguments.hpp"

namespace frisket {

/// The job of some pages of a run, or why they have none.
struct PageJob {
  std::optional<Job> job;
  std::string error;                            ///< empty where there is a job
  std::optional<std::filesystem::path> ticket;  ///< where it was read from; empty for a job by flags alone
};

/// The jobs of a run. Where --ticket or --trim is given, one for all pages; else the `ticket.json` nearest to
/// each page, with the other flags laid over it.
class JobTable {
 public:
  /// Throws Error where the job given for all pages is wrong. `arguments` must outlive the table.
  explicit JobTable(const JobArguments& arguments);

  /// The job of `file`: its ticket lies in the file's folder or the nearest one above it, `top` being the
  /// last. Stays where it is as long as the table lives.
  const PageJob& job_of(const std::filesystem::path& file, const std::filesystem::path& top);
  /// The job given for all pages; null where pages have their own.
  const PageJob* common() const { return common_ ? &*common_ : nullptr; }

 private:
  const PageJob& read(const std::filesystem::path& ticket);

  const JobArguments& arguments_;
  std::optional<PageJob> common_;
  PageJob none_;
  std::map<std::filesystem::path, PageJob> by_ticket_;
};

}  // namespace frisket
