#pragma once

#include <CLI/CLI.hpp>
#include <filesystem>
#include <string>
#include <vector>

#include "cli/bounds_arguments.hpp"
#include "cli/exit_status.hpp"
#include "cli/job_arguments.hpp"

namespace frisket {

/// The arguments of `frisket inspect`.
struct InspectArguments {
  JobArguments job;
  BoundsArguments bounds;
  std::vector<std::string> pages;
  std::string side;  ///< "inside", "outside", or empty
  std::filesystem::path folder = ".";
  bool report = false;  ///< write HTML reports as well
  std::string fail_on = "fix";
  bool recursive = false;
  std::vector<std::string> only;  ///< wildcards
  int jobs = 0;                   ///< pages at a time; 0: as many as there are cores
  std::string memory;             ///< "2GB", or empty for the default
  bool again = false;
  bool json_lines = false;
  bool csv = false;
  bool timings = false;  ///< tell how long each stage of a page took
  std::string shard;     ///< "2/8", or empty
};

/// Adds the command to `program`; `arguments` must outlive the parse.
CLI::App* add_inspect_command(CLI::App& program, InspectArguments& arguments);

/// Inspects every page and writes its results. Throws Error where nothing can be inspected at all.
ExitStatus run_inspect(const InspectArguments& arguments);

}  // namespace frisket
