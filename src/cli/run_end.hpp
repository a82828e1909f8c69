#pragma once

#include <filesystem>
#include <string>

#include "cli/exit_status.hpp"
#include "frisket/report.hpp"

namespace frisket {

/// The content of the findings file of a page; empty where it has none. `folder` is the summary's.
std::string findings_of(const SummaryEntry& page, const std::filesystem::path& folder);

/// How a run ends.
struct RunEnd {
  std::filesystem::path folder;  ///< of its summary
  bool with_summary = true;
  bool with_table = false;  ///< findings.csv as well
  bool quiet = false;       ///< no text on stdout
  std::string fail_on = "fix";
  bool with_report = false;       ///< report.html as well, joined from those of the pages
  bool with_job_reports = false;  ///< and, where there are several jobs, job.html for each
};

/// Writes the summary, the table and the report, says on stdout what the run came to, and tells the exit
/// status.
ExitStatus end_run(const Summary& summary, const RunEnd& end);

}  // namespace frisket
