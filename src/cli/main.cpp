#include <fcntl.h>
#include <unistd.h>

#include <csignal>
#include <iostream>
#include <new>

#include "cli/gather_command.hpp"
#include "cli/inspect_command.hpp"
#include "cli/interrupt.hpp"
#include "cli/memory_bound.hpp"
#include "cli/plan_command.hpp"
#include "cli/terminal.hpp"
#include "frisket/error.hpp"
#include "frisket/raster.hpp"
#include "frisket/version.hpp"

namespace frisket {
namespace {

std::string command_called(const CLI::App& program) {
  const auto called = program.get_subcommands();
  return called.empty() ? "frisket" : "frisket " + called.front()->get_name();
}

ExitStatus run_command(int argc, char** argv) {
  CLI::App program(
      "Inspects rendered pages before they go to a printer: size, safe zone, bleed, folds, resolution.",
      "frisket");
  program.set_version_flag("--version", std::string("frisket ") + version);
  program.require_subcommand(0, 1);
  InspectArguments inspect_arguments;
  PlanArguments plan_arguments;
  GatherArguments gather_arguments;
  CLI::App* inspect_command = add_inspect_command(program, inspect_arguments);
  CLI::App* plan_command = add_plan_command(program, plan_arguments);
  CLI::App* gather_command = add_gather_command(program, gather_arguments);
  try {
    program.parse(argc, argv);
    if (inspect_command->parsed()) {
      const ImagingLibrary imaging(argv[0]);  // the other commands open no page, and need not wait for it
      return run_inspect(inspect_arguments);
    }
    if (plan_command->parsed()) return run_plan(plan_arguments);
    if (gather_command->parsed()) return run_gather(gather_arguments);
    throw Error("name a command: frisket inspect, plan or gather (frisket --help tells more)");
  } catch (const CLI::ParseError& error) {
    if (error.get_exit_code() == 0) return program.exit(error), ExitStatus::clear;  // --help, --version
    if (argc > 1 && program.get_subcommands().empty() && argv[1][0] != '-')
      throw Error("there is no command \"" + std::string(argv[1]) + "\"; expected inspect, plan or gather");
    say_error(std::string(error.what()) + " (" + command_called(program) + " --help tells more)");
    return ExitStatus::misused;
  }
}

ExitStatus run(int argc, char** argv) {
  try {
    return run_command(argc, argv);
  } catch (const std::bad_alloc&) {  // of the run itself: a page has a process and an error of its own
    say_error("there is too little memory left; close other programs, or give fewer --jobs");
    return ExitStatus::page_failed;
  } catch (const std::exception& error) {  // an Error, or the system's word on a path that cannot be followed
    say_error(error.what());
    return ExitStatus::misused;
  }
}

/// Results that nobody can read are no results: a full disk behind the redirection must not look like
/// success.
ExitStatus after_flushing(ExitStatus status) {
  if (std::cout.flush()) return status;
  say_error("the results cannot be written to standard output");
  return status == ExitStatus::interrupted ? status : ExitStatus::page_failed;
}

}  // namespace
}  // namespace frisket

/// A stream that was closed would be given, as a number, to the next file that is opened: a page or a result.
void keep_standard_streams() {
  for (const int stream : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO})
    if (fcntl(stream, F_GETFD) < 0) open("/dev/null", O_RDONLY);  // the lowest free number; writing fails
}

int main(int argc, char** argv) {
  keep_standard_streams();
  std::signal(SIGPIPE, SIG_IGN);  // a reader that left is told of as a full disk is
  std::signal(SIGXFSZ, SIG_IGN);  // a file too large for the system is an error of its page, not the end
  frisket::catch_interrupts();
  frisket::give_back_large_blocks();
  return static_cast<int>(frisket::after_flushing(frisket::run(argc, argv)));
}
