#include "cli/run_end.hpp"

#include <algorithm>
#include <fstream>
#include <iostream>
#include <iterator>
#include <map>

#include "cli/page_text.hpp"
#include "cli/result_names.hpp"
#include "cli/shard.hpp"
#include "cli/terminal.hpp"

namespace frisket {
namespace {

/// Whether a page has a finding of the severity called `least` or above, or a check could not be made.
bool counts(const PageOutcome& outcome, const std::string& least) {
  return !outcome.not_assessed.empty() || outcome.fix > 0 || (least != "fix" && outcome.review > 0) ||
         (least == "note" && outcome.note > 0);
}

std::string table_of(const Summary& summary, const std::filesystem::path& folder) {
  std::string table = csv_heading();
  for (const SummaryEntry& page : summary.pages) table += csv_rows(page, findings_of(page, folder));
  return table;
}

/// The name of the job, where all pages are of one.
std::string title_of(const Summary& summary) {
  std::string title;
  for (const SummaryEntry& page : summary.pages) {
    if (!page.outcome) continue;
    if (!title.empty() && page.outcome->job != title) return "";
    title = page.outcome->job;
  }
  return title;
}

/// A page's report lies beside its findings.
std::string report_beside(const std::string& findings_file) {
  if (findings_file.empty()) return "";
  return report_name(findings_file.substr(0, findings_file.size() - findings_name("").size()));
}

void write_report(const Summary& summary, const std::filesystem::path& folder,
                  const std::filesystem::path& file) {
  std::vector<ReportPart> parts;
  for (const SummaryEntry& page : summary.pages)
    parts.push_back({folder / report_beside(page.findings_file),
                     page.number > 1 ? page.file + ", page " + std::to_string(page.number) : page.file,
                     page.error});
  write_run_report(file, title_of(summary), parts);
}

/// Where the report of a job lies: as its ticket does. Empty for a ticket outside of what was inspected.
std::filesystem::path job_report_of(const std::filesystem::path& ticket) {
  const std::filesystem::path folder = ticket.parent_path().lexically_normal();
  const bool within = ticket.is_relative() && (folder.empty() || *folder.begin() != "..");
  return within ? folder / job_report_name : std::filesystem::path();
}

/// Nothing where all pages are of one job: the report of the run is the job's.
void write_job_reports(const Summary& summary, const std::filesystem::path& folder) {
  std::map<std::string, Summary> jobs;
  for (const SummaryEntry& page : summary.pages)
    if (!page.ticket.empty()) jobs[page.ticket].pages.push_back(page);
  if (jobs.size() < 2) return;
  for (const auto& [ticket, pages] : jobs) {
    const std::filesystem::path file = job_report_of(ticket);
    if (file.empty()) continue;
    std::error_code ignored;
    std::filesystem::create_directories((folder / file).parent_path(), ignored);  // writing will tell
    write_report(pages, folder, folder / file);
  }
}

/// False where something could not be written.
bool write_all(const Summary& summary, const RunEnd& end) {
  try {
    if (end.with_table)
      write_file(end.folder / with_part(csv_name, summary.shard), table_of(summary, end.folder));
    if (end.with_summary)
      write_file(end.folder / with_part(summary_name, summary.shard), summary_json(summary));
    if (end.with_report) write_report(summary, end.folder, end.folder / run_report_name);
    if (end.with_job_reports) write_job_reports(summary, end.folder);
    return true;
  } catch (const Error& error) {
    say_error(error.what());
    return false;
  }
}

}  // namespace

std::string findings_of(const SummaryEntry& page, const std::filesystem::path& folder) {
  if (page.findings_file.empty()) return "";
  std::ifstream stream(folder / page.findings_file, std::ios::binary);
  if (!stream)
    throw Error((folder / page.findings_file).string() + ": cannot be read; inspect the page again");
  return {std::istreambuf_iterator<char>(stream), {}};
}

ExitStatus end_run(const Summary& summary, const RunEnd& end) {
  const bool written = write_all(summary, end);
  if (end.with_summary && !end.quiet) std::cout << run_text(summary);
  if (!summary.complete) return ExitStatus::interrupted;
  const auto& pages = summary.pages;
  if (!written || std::ranges::any_of(pages, [](const SummaryEntry& page) { return !page.outcome; }))
    return ExitStatus::page_failed;
  const bool found = std::ranges::any_of(
      pages, [&](const SummaryEntry& page) { return counts(*page.outcome, end.fail_on); });
  return found ? ExitStatus::found : ExitStatus::clear;
}

}  // namespace frisket
