#include "cli/run.hpp"

#include <algorithm>
#include <iostream>
#include <set>
#include <sstream>
#include <thread>

#include "cli/interrupt.hpp"
#include "cli/memory_bound.hpp"
#include "cli/output_folder.hpp"
#include "cli/output_lock.hpp"
#include "cli/page_text.hpp"
#include "cli/page_work.hpp"
#include "cli/result_names.hpp"
#include "cli/run_end.hpp"
#include "cli/shard.hpp"
#include "cli/terminal.hpp"
#include "frisket/raster.hpp"

namespace frisket {
namespace {

constexpr int patience_ms = 200;  ///< after which a run looks whether it was interrupted

std::size_t cores() { return std::max(1U, std::thread::hardware_concurrency()); }

std::size_t jobs_asked(const InspectArguments& arguments) {
  return arguments.jobs > 0 ? static_cast<std::size_t>(arguments.jobs) : cores();
}

std::uint64_t memory_asked(const InspectArguments& arguments) {
  return arguments.memory.empty() ? default_memory() : parse_memory(arguments.memory);
}

PageSources sources_of(const InspectArguments& arguments) {
  PageSources sources{{arguments.pages.begin(), arguments.pages.end()},
                      std::nullopt,
                      {arguments.recursive, arguments.only, arguments.folder}};
  if (!arguments.side.empty()) sources.side = arguments.side == "inside" ? Side::inside : Side::outside;
  return sources;
}

/// "PAGES PIXELS", or "!" and why the file cannot be opened.
std::string survey_text(const PageFile& file, const RasterBounds& bounds) {
  try {
    const FileSurvey found = survey_file(file.file, file.job->job->dpi, bounds);
    return std::to_string(found.pages) + " " + std::to_string(found.pixels);
  } catch (const std::exception& error) {
    return std::string("!") + error.what();
  }
}

std::string shown(const SummaryEntry& page) {
  return page.number > 1 ? page.file + ", page " + std::to_string(page.number) : page.file;
}

}  // namespace

Run::Run(const InspectArguments& arguments)
    : arguments_(arguments),
      bounds_(bounds_of(arguments.bounds)),
      jobs_(arguments.job),
      budget_(memory_asked(arguments), jobs_asked(arguments)) {
  const PageFiles files = list_files(sources_of(arguments), jobs_);
  if (!arguments.shard.empty()) {
    summary_.shard = parse_shard(arguments.shard);
    summary_.shard->files = files.files.size();
  }
  count_left_alone(files.left_alone);
  survey(files);
  std::vector<PageTask> tasks;
  for (const State& page : pages_) tasks.push_back(page.task);
  refuse_clashes(tasks);
  guard_inputs(tasks, arguments.folder);
}

void Run::count_left_alone(const LeftAlone& left_alone) {
  const auto count = [&](const std::vector<std::string>& names) {
    return static_cast<std::size_t>(
        std::ranges::count_if(names, [&](const std::string& name) { return is_in(summary_.shard, name); }));
  };
  summary_.hidden = count(left_alone.hidden);
  summary_.unknown = count(left_alone.unknown);
  summary_.not_asked = count(left_alone.not_asked);
}

/// Counts the pages of the files of this share; files that cannot be opened stand for one page.
void Run::survey(const PageFiles& found) {
  const std::vector<PageFile>& files = found.files;
  std::vector<std::string> answers(files.size());
  Crew crew(budget_.jobs(), [&](std::size_t file) {
    bound_memory_for(0);
    return survey_text(files[file], bounds_);
  });
  std::size_t next = 0;
  while ((next < files.size() && !interrupted()) || crew.working() > 0) {
    for (; next < files.size() && crew.has_free_hand(); ++next)
      if (files[next].error.empty() && is_in(summary_.shard, files[next].name))
        crew.give(next, bounds_.seconds);
    for (Crew::Done& done : crew.wait(patience_ms))
      answers[done.piece] = done.crashed ? "!" + done.answer : std::move(done.answer);
  }
  for (std::size_t i = 0; i < files.size(); ++i)
    if (is_in(summary_.shard, files[i].name)) add_pages(files[i], i, answers[i]);
}

void Run::add_pages(const PageFile& file, std::size_t position, const std::string& answer) {
  PageFile known = file;
  int count = 1;
  std::int64_t pixels = 0;
  if (answer.starts_with('!')) known.error = answer.substr(1);
  if (known.error.empty()) std::istringstream(answer) >> count >> pixels;
  for (PageTask& task : pages_of_file(known, count)) {
    pages_.push_back({std::move(task), position, pixels, std::nullopt});
    if (!known.error.empty()) pages_.back().answer = text_of({PageAnswer::How::failed, known.error});
  }
}

ExitStatus Run::inspect_all() {
  prepare_output_folder(arguments_.folder);
  const OutputLock lock(arguments_.folder, summary_.shard);
  if (!summary_.shard) prepare_folders();
  work_through();
  progress_.reset();
  summary_.complete = !interrupted();
  const bool with_summary = pages_.size() > 1 || summary_.shard;
  const bool joined_report = arguments_.report && with_summary && !summary_.shard;
  return end_run(summary_, {arguments_.folder, with_summary, arguments_.csv, arguments_.json_lines,
                            arguments_.fail_on, joined_report, joined_report});
}

/// Under a lock of its own a run clears away what a killed one left half-written.
void Run::prepare_folders() const {
  std::set<std::filesystem::path> folders;
  for (const State& page : pages_) folders.insert((arguments_.folder / page.task.name).parent_path());
  folders.insert(arguments_.folder);
  for (const std::filesystem::path& folder : folders) remove_leftovers(folder);
}

void Run::work_through() {
  progress_.emplace(pages_.size());
  const std::size_t jobs =
      std::clamp<std::size_t>(budget_.jobs(), 1, std::max<std::size_t>(1, pages_.size()));
  PageWork work({arguments_.folder, arguments_.job.has("dpi"), arguments_.again,
                 static_cast<int>(std::max<std::size_t>(1, cores() / jobs)), arguments_.report,
                 arguments_.timings, bounds_});
  Crew crew(jobs, [&](std::size_t page) {
    bound_memory_for(pages_[page].pixels);
    return text_of(work.take(pages_[page].task));
  });
  bool told_to_stop = false;
  tell_in_order();
  while ((given_ < pages_.size() && !interrupted()) || crew.working() > 0) {
    while (given_ < pages_.size() && !interrupted() && crew.has_free_hand()) {
      const State& page = pages_[given_];
      if (!page.answer) {
        if (!budget_.fits(page.pixels)) break;
        budget_.take(page.pixels);
        crew.give(given_, seconds_for(page.pixels, bounds_));
      }
      ++given_;
    }
    for (const Crew::Done& done : crew.wait(patience_ms)) finish(done);
    tell_in_order();
    if (interrupted() && !told_to_stop) crew.interrupt(), told_to_stop = true;
  }
  for (State& page : pages_)
    if (!page.answer) page.answer = text_of({PageAnswer::How::interrupted, ""});
  tell_in_order();
}

void Run::finish(const Crew::Done& done) {
  State& page = pages_[done.piece];
  budget_.give_back(page.pixels);
  page.answer = done.crashed ? text_of({PageAnswer::How::failed, done.answer}) : done.answer;
  ++done_;
}

/// Pages are done in any order, and told in that of the run.
void Run::tell_in_order() {
  for (; told_ < pages_.size() && pages_[told_].answer; ++told_) tell(pages_[told_]);
  progress_->show(done_, findings_);
}

SummaryEntry Run::entry_of(const State& page) const {
  const PageTask& task = page.task;
  SummaryEntry entry;
  entry.file = task.file.shown;
  entry.number = task.number;
  entry.position = page.position;
  entry.ticket = task.file.ticket;
  const PageAnswer answer = answer_in(*page.answer);
  entry.error =
      answer.how == PageAnswer::How::interrupted ? "not inspected: the run was interrupted" : answer.error;
  if (!entry.error.empty()) return entry;
  entry.findings_file = findings_name(task.name);
  entry.overlay_file = overlay_name(task.name);
  return entry;
}

/// Reads the page's findings into its entry and gives them as they are told.
std::string Run::text_of_page(SummaryEntry& entry) const {
  const std::string findings = findings_of(entry, arguments_.folder);
  const Report report = read_report(findings);
  entry.outcome = outcome_of(report);
  return arguments_.json_lines ? json_line(entry, findings) : page_text(report);
}

void Run::tell(const State& page) {
  SummaryEntry entry = entry_of(page);
  std::string text;
  try {
    if (entry.error.empty()) text = text_of_page(entry);
  } catch (const Error& error) {
    entry.error = error.what();
  }
  if (!entry.error.empty()) {
    entry.findings_file.clear();
    entry.overlay_file.clear();
    if (arguments_.json_lines) text = json_line(entry, "");
  }
  progress_->clear();
  const bool stopped = answer_in(*page.answer).how == PageAnswer::How::interrupted;
  if (!entry.error.empty() && !stopped) {
    remove_results(page.task);
    say_error(shown(entry), entry.error);
  }
  if (!stopped) std::cout << text << std::flush;
  if (entry.outcome) findings_ += entry.outcome->fix + entry.outcome->review + entry.outcome->note;
  summary_.pages.push_back(std::move(entry));
}

/// A page that failed leaves nothing behind: neither half of its results nor those of an earlier run.
void Run::remove_results(const PageTask& page) const {
  std::error_code ignored;
  std::filesystem::remove(arguments_.folder / overlay_name(page.name), ignored);
  std::filesystem::remove(arguments_.folder / findings_name(page.name), ignored);
  std::filesystem::remove(arguments_.folder / report_name(page.name), ignored);
}

}  // namespace frisket
