#include "cli/gather_command.hpp"

#include <algorithm>
#include <fstream>
#include <iterator>

#include "cli/natural_order.hpp"
#include "cli/output_folder.hpp"
#include "cli/output_lock.hpp"
#include "cli/result_names.hpp"
#include "cli/run_end.hpp"
#include "cli/terminal.hpp"
#include "frisket/report.hpp"

namespace frisket {
namespace {

namespace fs = std::filesystem;

bool is_part(const fs::path& file) {
  const std::string name = file.filename().string();
  return name.starts_with("summary-") && name.find("-of-") != std::string::npos && name.ends_with(".json");
}

/// The summaries in a folder: its parts where it has any, else the one of a whole run.
std::vector<fs::path> summaries_in(const fs::path& folder) {
  std::vector<fs::path> parts;
  std::error_code error;
  for (fs::directory_iterator entry(folder, error), end; !error && entry != end; entry.increment(error))
    if (is_part(entry->path())) parts.push_back(entry->path());
  if (error) throw Error(folder.string() + ": the folder cannot be read: " + error.message());
  std::ranges::sort(parts, natural_less, &fs::path::native);
  if (parts.empty() && fs::exists(folder / summary_name)) parts.push_back(folder / summary_name);
  if (parts.empty())
    throw Error(folder.string() + ": no summary in this folder; inspect pages with -o " + folder.string() +
                " first");
  return parts;
}

/// `file` of `folder` as seen from `target`.
std::string seen_from(const fs::path& target, const fs::path& folder, const std::string& file) {
  if (file.empty()) return "";
  return (fs::weakly_canonical(folder) / file).lexically_relative(fs::weakly_canonical(target)).string();
}

Summary summary_in(const fs::path& file, const fs::path& target) {
  std::ifstream stream(file, std::ios::binary);
  Summary summary;
  try {
    summary = read_summary({std::istreambuf_iterator<char>(stream), {}});
  } catch (const Error& error) {
    throw Error(file.string() + ": " + error.what());
  }
  for (SummaryEntry& page : summary.pages) {
    page.findings_file = seen_from(target, file.parent_path(), page.findings_file);
    page.overlay_file = seen_from(target, file.parent_path(), page.overlay_file);
  }
  return summary;
}

fs::path target_of(const GatherArguments& arguments) {
  if (arguments.folder) return *arguments.folder;
  return arguments.folders.size() == 1 ? arguments.folders.front() : ".";
}

}  // namespace

CLI::App* add_gather_command(CLI::App& program, GatherArguments& arguments) {
  CLI::App* command = program.add_subcommand("gather", "Make one summary of the results in several folders");
  command->add_option("DIR", arguments.folders, "Folders that runs, or parts of one run, were written to")
      ->required();
  command
      ->add_option_function<std::string>(
          "-o,--output", [&arguments](const std::string& folder) { arguments.folder = folder; },
          "Folder for the summary (default: the folder given, or the current one for several)")
      ->type_name("DIR");
  command->add_flag("--csv", arguments.csv, "Write findings.csv as well, a row a finding");
  command->add_flag("--report", arguments.report, "Join the pages' reports in report.html as well");
  command->add_option("--fail-on", arguments.fail_on, "Least severity that gives exit status 1 (default fix)")
      ->check(CLI::IsMember({"fix", "review", "note"}));
  return command;
}

ExitStatus run_gather(const GatherArguments& arguments) {
  const fs::path target = target_of(arguments);
  std::vector<Summary> found;
  for (const std::string& folder : arguments.folders)
    for (const fs::path& file : summaries_in(folder)) found.push_back(summary_in(file, target));
  const bool divided = std::ranges::any_of(found, [](const Summary& run) { return run.shard.has_value(); });
  const Summary all = divided ? joined(std::move(found)) : in_a_row(std::move(found));
  prepare_output_folder(target);
  const OutputLock lock(target, std::nullopt);
  for (const SummaryEntry& page : all.pages)
    if (!page.error.empty()) say_error(page.file, page.error);
  return end_run(all, {target, true, arguments.csv, false, arguments.fail_on, arguments.report,
                       arguments.report && divided});
}

}  // namespace frisket
