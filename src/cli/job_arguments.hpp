#pragma once

#include <CLI/CLI.hpp>
#include <filesystem>
#include <optional>
#include <span>
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
/// must outlive the parse. `without_ticket` ends the help of --ticket: what a command does where there is
/// none.
void add_job_options(CLI::App& command, JobArguments& arguments, const std::string& without_ticket = "");

/// A ticket with `flags` laid over it, as read_job(); the findings that it accepts are such as checks make.
/// Throws Error.
Job read_checked_job(const std::filesystem::path& ticket, std::span<const JobFlag> flags);

/// The job that the arguments describe. Throws Error.
Job job_of(const JobArguments& arguments);

}  // namespace frisket
