#include "cli/page_work.hpp"

#include <malloc.h>

#include <fstream>
#include <iterator>
#include <new>

#include "cli/interrupt.hpp"
#include "cli/result_names.hpp"
#include "frisket/inspect.hpp"
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
  try {
    inspect_page(page);
    answer.how = PageAnswer::How::done;
  } catch (const Interrupted&) {
    answer.how = PageAnswer::How::interrupted;
  } catch (const std::bad_alloc&) {
    answer.error = "not enough memory to inspect it; use a lower resolution";
  } catch (const std::exception& error) {
    answer.error = error.what();
  }
  malloc_trim(0);  // what this page took is free for the others
  return answer;
}

void PageWork::inspect_page(const PageTask& page) {
  if (!ready_) {
    ImagingLibrary::use_threads(settings_.threads);
    use_analysis_threads(settings_.threads);
    ready_ = true;
  }
  const Job& job = *page.file.job->job;
  const PageRequest request{page.file.shown, page.number, page.file.side,
                            settings_.dpi_from_flag ? job.dpi : std::nullopt};
  const std::string file_sha = sha_of(page.file.file), job_sha = job_sha256(job, request);
  if (is_unchanged(page, file_sha, job_sha)) return;

  const std::filesystem::path overlay = settings_.folder / overlay_name(page.name);
  std::error_code ignored;
  std::filesystem::create_directories(overlay.parent_path(), ignored);  // writing will tell
  const Raster raster = open_page(page.file.file, page.number, job.dpi);
  stop_if_interrupted();
  Report report = inspect(raster, job, request);
  report.file_sha256 = file_sha;
  report.job_sha256 = job_sha;
  stop_if_interrupted();
  const std::vector<std::uint8_t> drawn = overlay_png(raster, report);
  stop_if_interrupted();
  const std::string to_read = settings_.report ? report_html(raster, report, raster.notes) : "";
  stop_if_interrupted();
  // In this order an overlay always has its own findings, and report, beside it, whenever the program is
  // killed.
  std::filesystem::remove(overlay);
  std::filesystem::remove(settings_.folder / report_name(page.name), ignored);
  write_file(settings_.folder / findings_name(page.name), report_json(report));
  if (settings_.report) write_file(settings_.folder / report_name(page.name), to_read);
  write_file(overlay, drawn);
}

bool PageWork::is_unchanged(const PageTask& page, const std::string& file_sha,
                            const std::string& job_sha) const {
  if (settings_.again || !std::filesystem::exists(settings_.folder / overlay_name(page.name))) return false;
  if (settings_.report && !std::filesystem::exists(settings_.folder / report_name(page.name))) return false;
  try {
    const Report before = read_report(content_of(settings_.folder / findings_name(page.name)));
    return before.file_sha256 == file_sha && before.job_sha256 == job_sha;
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
