#pragma once

#include <CLI/CLI.hpp>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "cli/exit_status.hpp"

namespace frisket {

/// The arguments of `frisket gather`.
struct GatherArguments {
  std::vector<std::string> folders;
  std::optional<std::filesystem::path> folder;  ///< of the summary
  bool csv = false;
  bool report = false;
  std::string fail_on = "fix";
};

/// Adds the command to `program`; `arguments` must outlive the parse.
CLI::App* add_gather_command(CLI::App& program, GatherArguments& arguments);

/// Makes one summary of those in several folders: the parts of a divided run become what one run would have
/// written, whole runs follow each other. Throws Error where a part is missing or a folder has no summary.
ExitStatus run_gather(const GatherArguments& arguments);

}  // namespace frisket
