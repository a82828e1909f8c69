#pragma once

#include <CLI/CLI.hpp>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "frisket/job.hpp"

namespace frisket {

/// The arguments that describe the job: a ticket, flags, or a ticket with flags over it.
struct JobArguments {
  std::optional<std::filesystem::path> ticket;
  std::vector<JobFlag> flags;

  bool has(std::string_view key) const;
};

/// Adds --ticket, the flags of the job and one flag for each limit of the checks to `command`. `arguments`
/// must outlive the parse.
void add_job_options(CLI::App& command, JobArguments& arguments);

/// The job that the arguments describe. Throws Error.
Job job_of(const JobArguments& arguments);

}  // namespace frisket
