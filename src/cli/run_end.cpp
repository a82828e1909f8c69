#include "cli/run_end.hpp"

#include <algorithm>
#include <fstream>
#include <iostream>
#include <iterator>

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

/// False where something could not be written.
bool write_all(const Summary& summary, const RunEnd& end) {
  try {
    if (end.with_table)
      write_file(end.folder / with_part(csv_name, summary.shard), table_of(summary, end.folder));
    if (end.with_summary)
      write_file(end.folder / with_part(summary_name, summary.shard), summary_json(summary));
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
