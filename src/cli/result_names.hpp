#pragma once

#include <filesystem>
#include <string>

namespace frisket {

// The names of all that a run leaves in its folder.

inline constexpr const char* summary_name = "summary.json";
inline constexpr const char* csv_name = "findings.csv";
inline constexpr const char* run_report_name = "report.html";
/// The report of one job of a run of several, in the folder of its ticket.
inline constexpr const char* job_report_name = "job.html";
/// The ticket of a folder of pages.
inline constexpr const char* ticket_name = "ticket.json";

/// The names of the files that hold the results of a page called `name`.
std::string findings_name(const std::string& name);
std::string overlay_name(const std::string& name);
std::string report_name(const std::string& name);

/// True for a file that a run left: findings, an overlay with its findings beside it, a summary, a table, a
/// lock. Somebody's own `map.overlay.png` is none.
bool is_result(const std::filesystem::path& file);

}  // namespace frisket
