#include "cli/page_list.hpp"

#include <algorithm>
#include <map>

#include "cli/result_names.hpp"
#include "frisket/error.hpp"

namespace frisket {
namespace {

namespace fs = std::filesystem;

fs::path beside(const std::optional<fs::path>& ticket, const std::string& file) {
  return ticket ? ticket->parent_path() / file : fs::path(file);
}

bool is_same_file(const fs::path& a, const fs::path& b) {
  std::error_code error;
  return fs::weakly_canonical(a, error) == fs::weakly_canonical(b, error) && !error;
}

/// A path that cannot be followed (links in a ring, a name too long) stays as it is: opening it will tell.
fs::path followed(const fs::path& path) {
  std::error_code error;
  const fs::path found = fs::weakly_canonical(path, error);
  return error ? path : found;
}

/// The side that the ticket gives a page: by its path, else by its file name alone.
std::optional<Side> side_in_ticket(const fs::path& file, const PageJob& job) {
  for (const JobPage& entry : job.job->pages)
    if (is_same_file(beside(job.ticket, entry.file), file)) return entry.side;
  for (const JobPage& entry : job.job->pages)
    if (fs::path(entry.file).filename() == file.filename()) return entry.side;
  return std::nullopt;
}

void take_side(PageFile& file, std::optional<Side> said) {
  file.side = said.value_or(Side::outside);
  file.side_taken = !said;
}

/// Collects the files of a run.
class Listing {
 public:
  Listing(const PageSources& sources, JobTable& jobs) : sources_(sources), jobs_(jobs) {}

  void take_path(const fs::path& path) {
    std::error_code error;
    if (fs::is_directory(path, error))
      take_folder(path);
    else
      add(path, path.string(), path.stem().string(), jobs_.job_of(path, path.parent_path()));
  }

  void take_ticket(const PageJob& job) {
    for (const JobPage& page : job.job->pages) {
      const fs::path file = beside(job.ticket, page.file);
      add(file, page.file, file.stem().string(), job);
      if (job.job->folded && !sources_.side) take_side(found.files.back(), page.side);
    }
  }

  PageFiles found;

 private:
  void add(const fs::path& file, const std::string& shown, const std::string& name, const PageJob& job) {
    found.files.push_back({file, shown, name, &job, std::nullopt, job.error});
    if (job.job && job.job->folded)
      take_side(found.files.back(), sources_.side ? sources_.side : side_in_ticket(file, job));
    if (job.ticket) found.files.back().ticket = job.ticket->string();
  }

  /// The ticket of the file added last, where it lies in `folder`.
  void name_ticket_within(const fs::path& folder) {
    std::string& ticket = found.files.back().ticket;
    const fs::path within = fs::path(ticket).lexically_relative(folder);
    if (!ticket.empty() && !jobs_.common() && !within.empty() && *within.begin() != "..")
      ticket = within.string();
  }

  void take_folder(const fs::path& folder) {
    const FolderContents contents = read_folder(folder, sources_.rules);
    if (contents.pages.empty() && contents.unreadable.empty()) refuse_empty(folder, contents);
    const fs::path top = (folder / "page").parent_path();  // without a slash at its end
    for (const std::string& page : contents.pages) {
      const fs::path stem = fs::path(page).parent_path() / fs::path(page).stem();
      add(folder / page, page, stem.string(), jobs_.job_of(folder / page, top));
      name_ticket_within(folder);
    }
    for (const auto& [inner, reason] : contents.unreadable) {
      add(folder / inner, inner + "/", inner, jobs_.job_of(folder / inner, top));
      found.files.back().error = "the folder cannot be read: " + reason + "; change its permissions";
    }
    const auto append = [](std::vector<std::string>& to, const std::vector<std::string>& more) {
      to.insert(to.end(), more.begin(), more.end());
    };
    append(found.left_alone.hidden, contents.hidden);
    append(found.left_alone.unknown, contents.unknown);
    append(found.left_alone.not_asked, contents.not_asked);
  }

  [[noreturn]] void refuse_empty(const fs::path& folder, const FolderContents& contents) const {
    if (!contents.not_asked.empty())
      throw Error(folder.string() + ": none of its " + std::to_string(contents.not_asked.size()) +
                  " pages matches --only");
    throw Error(folder.string() +
                ": no pages in this folder; it should hold PNG, TIFF, JPEG, WebP, PPM or PDF files" +
                (sources_.rules.recursive ? "" : " (--recursive looks into its folders as well)"));
  }

  const PageSources& sources_;
  JobTable& jobs_;
};

bool has_job(const PageFile& file) { return file.job->job || file.job->ticket; }

}  // namespace

PageFiles list_files(const PageSources& sources, JobTable& jobs) {
  Listing listing(sources, jobs);
  for (const fs::path& path : sources.paths) listing.take_path(path);
  if (sources.paths.empty() && jobs.common()) listing.take_ticket(*jobs.common());
  const std::vector<PageFile>& files = listing.found.files;
  if (sources.paths.empty() && files.empty())
    throw Error("no pages: name page files or a folder, or list \"pages\" in the ticket");
  if (std::ranges::none_of(files, has_job))
    throw Error(
        "no job given: add --ticket FILE, put a ticket.json beside the pages, or give --trim with the "
        "finished flat size");
  return std::move(listing.found);
}

std::vector<PageTask> pages_of_file(const PageFile& file, int count) {
  std::vector<PageTask> pages;
  for (int number = 1; number <= count; ++number)
    pages.push_back({file, number, count == 1 ? file.name : file.name + "-p" + std::to_string(number)});
  if (file.side_taken && count == 2) pages.back().file.side = Side::inside;
  return pages;
}

void refuse_clashes(const std::vector<PageTask>& pages) {
  std::map<std::string, const PageTask*> names;
  for (const PageTask& page : pages) {
    const auto [other, is_new] = names.emplace(page.name, &page);
    if (!is_new)
      throw Error("'" + other->second->file.shown + "' and '" + page.file.shown +
                  "' would both be written to " + findings_name(page.name) +
                  "; rename one, or inspect them into different folders with -o");
  }
}

void guard_inputs(const std::vector<PageTask>& pages, const fs::path& folder) {
  std::vector<fs::path> inputs, results{folder / summary_name, folder / csv_name, folder / run_report_name};
  for (const PageTask& page : pages) {
    inputs.push_back(page.file.file);
    if (page.file.job->ticket) inputs.push_back(*page.file.job->ticket);
    for (const std::string& name :
         {findings_name(page.name), overlay_name(page.name), report_name(page.name)})
      results.push_back(folder / name);
  }
  std::ranges::transform(inputs, inputs.begin(), followed);
  std::ranges::sort(inputs);
  for (const fs::path& result : results)
    if (std::ranges::binary_search(inputs, followed(result)))
      throw Error(result.string() + " is an input and would be overwritten; choose another folder with -o");
}

}  // namespace frisket
