#pragma once

#include <CLI/CLI.hpp>

#include "cli/exit_status.hpp"
#include "cli/job_arguments.hpp"

namespace frisket {

/// The arguments of `frisket plan`.
struct PlanArguments {
  JobArguments job;
  bool json = false;
};

/// Adds the command to `program`; `arguments` must outlive the parse.
CLI::App* add_plan_command(CLI::App& program, PlanArguments& arguments);

/// Prints the arithmetic of the job. Throws Error where the job is wrong.
ExitStatus run_plan(const PlanArguments& arguments);

}  // namespace frisket
