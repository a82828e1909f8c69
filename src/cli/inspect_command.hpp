#pragma once

#include <CLI/CLI.hpp>
#include <filesystem>
#include <string>
#include <vector>

#include "cli/exit_status.hpp"
#include "cli/job_arguments.hpp"

namespace frisket {

/// The arguments of `frisket inspect`.
struct InspectArguments {
  JobArguments job;
  std::vector<std::string> pages;
  std::string side;  ///< "inside", "outside", or empty
  std::filesystem::path folder = ".";
  std::string fail_on = "fix";
};

/// Adds the command to `program`; `arguments` must outlive the parse.
CLI::App* add_inspect_command(CLI::App& program, InspectArguments& arguments);

/// Inspects every page and writes its results. Throws Error where nothing can be inspected at all.
ExitStatus run_inspect(const InspectArguments& arguments);

}  // namespace frisket
