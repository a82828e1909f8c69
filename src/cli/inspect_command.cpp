#include "cli/inspect_command.hpp"

#include <algorithm>
#include <deque>
#include <iostream>
#include <new>

#include "cli/interrupt.hpp"
#include "cli/output_folder.hpp"
#include "cli/page_list.hpp"
#include "cli/page_text.hpp"
#include "cli/terminal.hpp"
#include "frisket/report.hpp"

namespace frisket {
namespace {

/// Thrown between two steps of a page once Ctrl-C was pressed.
struct Interrupted {};

void stop_if_interrupted() {
  if (interrupted()) throw Interrupted();
}

Severity severity_called(std::string_view name) {
  for (const Severity severity : {Severity::fix, Severity::review})
    if (severity_name(severity) == name) return severity;
  return Severity::note;
}

/// Inspects the pages of a run one after the other and keeps what each came to.
class Run {
 public:
  Run(const InspectArguments& arguments, Job job) : arguments_(arguments), job_(std::move(job)) {
    PageSources sources{{arguments.pages.begin(), arguments.pages.end()}, arguments.job.ticket, std::nullopt};
    if (!arguments.side.empty()) sources.side = arguments.side == "inside" ? Side::inside : Side::outside;
    pages_ = list_pages(sources, job_);
    guard_inputs(pages_, sources.ticket, arguments.folder);
    prepare_output_folder(arguments.folder);
  }

  ExitStatus inspect_all() {
    for (const PageTask& page : pages_) take(page);
    if (pages_.size() > 1) write_summary();
    return status();
  }

 private:
  void take(const PageTask& page) {
    SummaryEntry entry{page.shown, page.number, "", nullptr, "", ""};
    const std::string shown =
        page.number > 1 ? page.shown + ", page " + std::to_string(page.number) : page.shown;
    try {
      const Progress progress(entries_.size() + 1, pages_.size(), shown);
      stop_if_interrupted();
      inspect_one(page, entry);
    } catch (const Interrupted&) {
      entry.error = "not inspected: the run was interrupted";
    } catch (const std::bad_alloc&) {
      entry.error = "not enough memory to inspect it; use a lower resolution";
    } catch (const std::exception& error) {
      entry.error = error.what();
    }
    if (!entry.error.empty() && !interrupted()) {
      remove_results(page);
      say_error(shown, entry.error);
    }
    entries_.push_back(std::move(entry));
  }

  void inspect_one(const PageTask& page, SummaryEntry& entry) {
    if (!page.error.empty()) throw Error(page.error);
    const Raster raster = open_page(page.file, page.number, job_.dpi);
    stop_if_interrupted();
    const std::optional<double> dpi_flag = arguments_.job.has("dpi") ? job_.dpi : std::nullopt;
    reports_.push_back(inspect(raster, job_, {page.shown, page.number, page.side, dpi_flag}));
    const Report& report = reports_.back();
    stop_if_interrupted();
    write_file(arguments_.folder / overlay_name(page.name), overlay_png(raster, report));
    write_file(arguments_.folder / findings_name(page.name), report_json(report));
    entry.report = &report;
    entry.findings_file = findings_name(page.name);
    entry.overlay_file = overlay_name(page.name);
    std::cout << page_text(report, raster.notes) << std::flush;
  }

  /// A page that failed leaves nothing behind: neither half of its results nor those of an earlier run.
  void remove_results(const PageTask& page) const {
    std::error_code ignored;
    std::filesystem::remove(arguments_.folder / findings_name(page.name), ignored);
    std::filesystem::remove(arguments_.folder / overlay_name(page.name), ignored);
  }

  void write_summary() {
    try {
      write_file(arguments_.folder / "summary.json", summary_json(entries_));
    } catch (const Error& error) {
      summary_failed_ = true;
      say_error(error.what());
    }
  }

  bool counts(const Report& report) const {
    const Severity least = severity_called(arguments_.fail_on);
    return std::ranges::any_of(report.findings, [&](const Finding& f) { return f.severity <= least; }) ||
           std::ranges::any_of(report.checks, [](const CheckResult& check) {
             return check.state == CheckResult::State::not_assessed;
           });
  }

  ExitStatus status() const {
    if (interrupted()) return ExitStatus::interrupted;
    const bool failed =
        std::ranges::any_of(entries_, [](const SummaryEntry& entry) { return !entry.error.empty(); });
    if (failed || summary_failed_) return ExitStatus::page_failed;
    const bool found = std::ranges::any_of(reports_, [&](const Report& report) { return counts(report); });
    return found ? ExitStatus::found : ExitStatus::clear;
  }

  const InspectArguments& arguments_;
  Job job_;
  std::vector<PageTask> pages_;
  std::deque<Report> reports_;  ///< a deque: entries point into it while it grows
  std::vector<SummaryEntry> entries_;
  bool summary_failed_ = false;
};

}  // namespace

CLI::App* add_inspect_command(CLI::App& program, InspectArguments& arguments) {
  CLI::App* command = program.add_subcommand("inspect", "Inspect pages and write what was found on each");
  command->add_option("PAGE_OR_FOLDER", arguments.pages,
                      "Page files, or folders of them; without one, the ticket's pages");
  add_job_options(*command, arguments.job);
  command->add_option("--side", arguments.side, "The side of folded work, for all pages given")
      ->check(CLI::IsMember({"inside", "outside"}))
      ->group("Job");
  command->add_option("-o,--output", arguments.folder, "Folder for the results (default: the current one)")
      ->type_name("DIR");
  command->add_option("--fail-on", arguments.fail_on, "Least severity that gives exit status 1 (default fix)")
      ->check(CLI::IsMember({"fix", "review", "note"}));
  return command;
}

ExitStatus run_inspect(const InspectArguments& arguments) {
  return Run(arguments, job_of(arguments.job)).inspect_all();
}

}  // namespace frisket
