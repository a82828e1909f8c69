#include "cli/inspect_command.hpp"

#include "cli/run.hpp"

namespace frisket {
namespace {

constexpr const char* many_pages = "Many pages";

void add_choice_of_pages(CLI::App& command, InspectArguments& arguments) {
  command.add_flag("--recursive", arguments.recursive, "Take the pages of folders within folders as well")
      ->group(many_pages);
  command
      .add_option("--only", arguments.only,
                  "Take only pages of folders that match: '*.tif' (by name), 'cards/*' (by path)")
      ->type_name("WILDCARD")
      ->allow_extra_args(false)
      ->group(many_pages);
  command.add_option("--shard", arguments.shard, "Inspect the K-th of N shares; frisket gather joins them")
      ->type_name("K/N")
      ->group(many_pages);
}

void add_means(CLI::App& command, InspectArguments& arguments) {
  command.add_option("--jobs", arguments.jobs, "Pages at a time (default: as many as there are cores)")
      ->check(CLI::Range(1, 1024))
      ->type_name("N")
      ->group(many_pages);
  command
      .add_option(
          "--memory", arguments.memory,
          "What pages at work may take together, like 800MB or 2GB (default: half of the machine's); a "
          "larger page is inspected alone")
      ->type_name("SIZE")
      ->group(many_pages);
  command
      .add_flag("--again", arguments.again,
                "Inspect also where page, job and frisket have not changed since the findings were written")
      ->group(many_pages);
}

void add_results(CLI::App& command, InspectArguments& arguments) {
  command.add_option("-o,--output", arguments.folder, "Folder for the results (default: the current one)")
      ->type_name("DIR");
  command.add_option("--fail-on", arguments.fail_on, "Least severity that gives exit status 1 (default fix)")
      ->check(CLI::IsMember({"fix", "review", "note"}));
  command.add_flag("--report", arguments.report,
                   "Write reports to read as well: NAME.report.html, and report.html of several pages");
  command.add_flag("--json-lines", arguments.json_lines,
                   "Print one line of JSON a page instead of sentences");
  command.add_flag("--csv", arguments.csv, "Write findings.csv as well, a row a finding");
  command.add_flag("--timings", arguments.timings,
                   "Tell on standard error how long each stage of a page took");
}

}  // namespace

CLI::App* add_inspect_command(CLI::App& program, InspectArguments& arguments) {
  CLI::App* command = program.add_subcommand("inspect", "Inspect pages and write what was found on each");
  command->add_option("PAGE_OR_FOLDER", arguments.pages,
                      "Page files, or folders of them; without one, the ticket's pages");
  add_job_options(*command, arguments.job,
                  ". Without it, and without --trim, each page is of the ticket.json in its folder or the "
                  "nearest one above, within the folder given");
  command->add_option("--side", arguments.side, "The side of folded work, for all pages given")
      ->check(CLI::IsMember({"inside", "outside"}))
      ->group("Job");
  add_results(*command, arguments);
  add_choice_of_pages(*command, arguments);
  add_means(*command, arguments);
  add_bounds_options(*command, arguments.bounds);
  return command;
}

ExitStatus run_inspect(const InspectArguments& arguments) { return Run(arguments).inspect_all(); }

}  // namespace frisket
