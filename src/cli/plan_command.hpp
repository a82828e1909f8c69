#pragma once

#include <CLI/CLI.hpp>
#include <filesystem>
#include <optional>

#include "cli/exit_status.hpp"
#include "cli/job_arguments.hpp"

namespace frisket {

/// The arguments of `frisket plan`.
struct PlanArguments {
  JobArguments job;
  bool json = false;
  std::optional<std::filesystem::path> folder;  ///< for the guides; none are written without it
};

/// Adds the command to `program`; `arguments` must outlive the parse.
CLI::App* add_plan_command(CLI::App& program, PlanArguments& arguments);

/// Prints the arithmetic of the job and writes its guides. Throws Error where the job or the folder is wrong.
ExitStatus run_plan(const PlanArguments& arguments);

}  // namespace frisket
