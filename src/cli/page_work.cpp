#include "cli/page_work.hpp"

#include <malloc.h>

#include <fstream>
#include <iostream>
#include <iterator>
#include <new>

#include "cli/interrupt.hpp"
#include "cli/result_names.hpp"
#include "cli/timings.hpp"
#include "frisket/head_start.hpp"
#include "frisket/page.hpp"
#include "frisket/report.hpp"

namespace frisket {
namespace {

/// Thrown between two steps of a page once Ctrl-C was pressed.
struct Interrupted {};

void stop_if_interrupted() {
  if (interrupted()) throw Interrupted();
}

std::string content_of(const std::filesystem::path& file) {
  std::ifstream stream(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), {}};
}

std::string shown(const PageTask& page) {
  return page.number > 1 ? page.file.shown + ", page " + std::to_string(page.number) : page.file.shown;
}

/// Is it of consequence which side a page is taken for?
bool folds_differ(const Job& job) {
  return job.inside.folds != job.outside.folds || job.inside.folds_y != job.outside.folds_y;
}

std::string side_taken_note(Side side) {
  return "taken for the " + std::string(side_name(side)) +
         ", as nothing says which side it is; the folds of the other lie elsewhere: "
         "give --side, or \"side\" in the ticket";
}

constexpr char done_sign = '.', failed_sign = '!', interrupted_sign = '~';

}  // namespace

std::string text_of(const PageAnswer& answer) {
  switch (answer.how) {
    case PageAnswer::How::done:
      return {done_sign};
    case PageAnswer::How::failed:
      return failed_sign + answer.error;
    case PageAnswer::How::interrupted:
      return {interrupted_sign};
  }
  return "";
}

PageAnswer answer_in(const std::string& text) {
  if (text.front() == done_sign) return {};
  if (text.front() == interrupted_sign) return {PageAnswer::How::interrupted, ""};
  return {PageAnswer::How::failed, text.substr(1)};
}

PageAnswer PageWork::take(const PageTask& page) {
  PageAnswer answer{PageAnswer::How::failed, ""};
  Timings timings;
  try {
    inspect_page(page, settings_.timings ? timings.sink() : StageSink());
    answer.how = PageAnswer::How::done;
  } catch (const Interrupted&) {
    answer.how = PageAnswer::How::interrupted;
  } catch (const std::bad_alloc&) {
    answer.error = "not enough memory to inspect it; use a lower resolution";
  } catch (const std::exception& error) {
    answer.error = error.what();
  }
  if (settings_.timings) std::cerr << timings.text(shown(page));
  malloc_trim(0);  // what this page took is free for the others
  return answer;
}

void PageWork::inspect_page(const PageTask& page, const StageSink& sink) {
  StageClock clock(sink);
  if (!ready_) {
    ImagingLibrary::use_threads(settings_.threads);
    use_analysis_threads(settings_.threads);
    ready_ = true;
  }
  const Job& job = *page.file.job->job;
  const PageRequest request{page.file.shown, page.number, page.file.side,
                            settings_.dpi_from_flag ? job.dpi : std::nullopt};
  const Digests digests{std::async(std::launch::async, [&] { return sha_of(page.file.file); }),
                        job_sha256(job, request)};
  const bool unchanged = is_unchanged(page, digests);
  clock.end("digests");
  if (unchanged) return;
  const PageResults results = results_of(page, request, digests, sink);
  clock.start();
  write(page, results);
  clock.end("writing");
}

PageResults PageWork::results_of(const PageTask& page, const PageRequest& request, const Digests& digests,
                                 const StageSink& sink) const {
  const Job& job = *page.file.job->job;
  StageClock clock(sink);
  HeadStart head_start(job);
  Raster raster = open_page(page.file.file, page.number, job.dpi, settings_.bounds, &head_start);
  clock.end("decoding");
  if (page.file.side_taken && folds_differ(job)) raster.notes.push_back(side_taken_note(*page.file.side));
  stop_if_interrupted();
  Report report = inspect(raster, job, request, sink, &head_start);
  report.file_sha256 = digests.file.get();
  report.job_sha256 = digests.job;
  stop_if_interrupted();
  clock.start();
  PageResults results;
  results.findings = report_json(report);
  clock.end("findings");
  results.overlay = overlay_png(raster, report);
  clock.end("overlay");
  stop_if_interrupted();
  if (settings_.report) {
    results.to_read = report_html(raster, report, raster.notes);
    clock.end("report");
  }
  stop_if_interrupted();
  return results;
}

/// In this order an overlay always has its own findings, and report, beside it, whenever the program is
/// killed.
void PageWork::write(const PageTask& page, const PageResults& results) const {
  const std::filesystem::path overlay = settings_.folder / overlay_name(page.name);
  std::error_code ignored;
  std::filesystem::create_directories(overlay.parent_path(), ignored);  // writing will tell
  std::filesystem::remove(overlay, ignored);
  std::filesystem::remove(settings_.folder / report_name(page.name), ignored);
  write_file(settings_.folder / findings_name(page.name), results.findings);
  if (settings_.report) write_file(settings_.folder / report_name(page.name), results.to_read);
  write_file(overlay, results.overlay);
}

bool PageWork::is_unchanged(const PageTask& page, const Digests& digests) const {
  const auto is_there = [&](const std::string& name) {
    std::error_code error;  // where it cannot be looked for, writing it will tell why
    return std::filesystem::exists(settings_.folder / name, error);
  };
  if (settings_.again || !is_there(overlay_name(page.name))) return false;
  if (settings_.report && !is_there(report_name(page.name))) return false;
  try {
    const Report before = read_report(content_of(settings_.folder / findings_name(page.name)));
    return before.file_sha256 == digests.file.get() && before.job_sha256 == digests.job;
  } catch (const Error&) {  // of another version, or not ours at all
    return false;
  }
}

const std::string& PageWork::sha_of(const std::filesystem::path& file) {
  if (summed_ != file || sum_.empty()) {
    sum_ = file_sha256(file);
    summed_ = file;
  }
  return sum_;
}

}  // namespace frisket
