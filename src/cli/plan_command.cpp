#include "cli/plan_command.hpp"

#include <iostream>

#include "frisket/report.hpp"

namespace frisket {
namespace {

/// The resolution a page is planned at where nobody says: 300 dpi, common practice, no source.
constexpr double usual_dpi = 300;

}  // namespace

CLI::App* add_plan_command(CLI::App& program, PlanArguments& arguments) {
  CLI::App* command =
      program.add_subcommand("plan", "Print the arithmetic of a job: panels, folds, spine, pixels");
  add_job_options(*command, arguments.job);
  command->add_flag("--json", arguments.json, "Print it as JSON");
  return command;
}

ExitStatus run_plan(const PlanArguments& arguments) {
  const Job job = job_of(arguments.job);
  const double dpi = job.dpi.value_or(usual_dpi);
  std::cout << (arguments.json ? plan_json(job, dpi) : plan_text(job, dpi));
  return ExitStatus::clear;
}

}  // namespace frisket
