#include "cli/plan_command.hpp"

#include <iostream>

#include "cli/guide_files.hpp"
#include "cli/output_folder.hpp"
#include "cli/terminal.hpp"
#include "frisket/error.hpp"
#include "frisket/report.hpp"
#include "report/printable.hpp"

namespace frisket {
namespace {

/// The resolution a page is planned at where nobody says: 300 dpi, common practice, no source.
constexpr double usual_dpi = 300;

/// Guides are called after the ticket; those of a job from flags alone are called this.
constexpr const char* nameless = "job";

std::string guide_name(const JobArguments& job) {
  return job.ticket ? job.ticket->stem().string() : nameless;
}

ExitStatus write_guides_of(const Job& job, const PlanArguments& arguments) {
  try {
    const auto files = write_guides(job, *arguments.folder, guide_name(arguments.job));
    if (arguments.json) return ExitStatus::clear;
    std::cout << "\nguides, full size, to lay under the artwork:\n";
    for (const auto& file : files) std::cout << "  " << printable(file.string()) << "\n";
    return ExitStatus::clear;
  } catch (const Error& error) {
    say_error(error.what());
    return ExitStatus::page_failed;
  }
}

}  // namespace

CLI::App* add_plan_command(CLI::App& program, PlanArguments& arguments) {
  CLI::App* command = program.add_subcommand(
      "plan",
      "Print the arithmetic of a job: panels, folds, spine, pixels; draw guides to lay under the artwork");
  add_job_options(*command, arguments.job);
  command->add_flag("--json", arguments.json, "Print it as JSON");
  command
      ->add_option_function<std::string>(
          "-o,--output", [&arguments](const std::string& folder) { arguments.folder = folder; },
          "Write guides into this folder: each side as SVG and PDF at full size, in layers")
      ->type_name("DIR");
  return command;
}

ExitStatus run_plan(const PlanArguments& arguments) {
  const Job job = job_of(arguments.job);
  const double dpi = job.dpi.value_or(usual_dpi);
  if (arguments.folder) prepare_output_folder(*arguments.folder);
  std::cout << (arguments.json ? plan_json(job, dpi) : plan_text(job, dpi));
  return arguments.folder ? write_guides_of(job, arguments) : ExitStatus::clear;
}

}  // namespace frisket
