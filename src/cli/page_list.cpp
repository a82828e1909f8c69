#include "cli/page_list.hpp"

#include <algorithm>
#include <array>
#include <map>

#include "cli/natural_order.hpp"
#include "frisket/raster.hpp"

namespace frisket {
namespace {

namespace fs = std::filesystem;

/// A file of a run, before its pages are counted.
struct PageFile {
  fs::path file;
  std::string shown;
  std::optional<Side> ticket_side;
};

bool has_page_ending(const fs::path& file) {
  constexpr std::array<std::string_view, 10> endings{".png",  ".tif", ".tiff", ".jpg", ".jpeg",
                                                     ".webp", ".ppm", ".pgm",  ".pbm", ".pnm"};
  std::string ending = file.extension().string();
  std::ranges::transform(ending, ending.begin(),
                         [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
  return ending == ".pdf" || std::ranges::find(endings, ending) != endings.end();
}

/// An overlay that an earlier run left beside its findings is no page.
bool is_own_overlay(const fs::path& file) {
  const std::string name = file.filename().string(), ending = overlay_name("");
  if (!name.ends_with(ending)) return false;
  const std::string page = name.substr(0, name.size() - ending.size());
  return fs::exists(file.parent_path() / findings_name(page));
}

bool is_page_of_folder(const fs::directory_entry& entry) {
  std::error_code ignored;  // a link that leads nowhere is no folder; it is told as a page that is missing
  return entry.path().filename().string().front() != '.' && has_page_ending(entry.path()) &&
         !entry.is_directory(ignored) && !is_own_overlay(entry.path());
}

std::vector<PageFile> files_of_folder(const fs::path& folder) {
  std::vector<PageFile> files;
  std::error_code error;
  for (fs::directory_iterator entry(folder, error), end; !error && entry != end; entry.increment(error))
    if (is_page_of_folder(*entry))
      files.push_back({entry->path(), entry->path().filename().string(), std::nullopt});
  if (error) throw Error(folder.string() + ": the folder cannot be read: " + error.message());
  if (files.empty())
    throw Error(folder.string() +
                ": no pages in this folder; it should hold PNG, TIFF, JPEG, WebP, PPM or PDF files");
  std::ranges::sort(files, natural_less, &PageFile::shown);
  return files;
}

fs::path beside_ticket(const PageSources& sources, const std::string& file) {
  return sources.ticket ? sources.ticket->parent_path() / file : fs::path(file);
}

bool is_same_file(const fs::path& a, const fs::path& b) {
  std::error_code error;
  return fs::weakly_canonical(a, error) == fs::weakly_canonical(b, error) && !error;
}

/// The side that the ticket gives a page: by its path, else by its file name alone.
std::optional<Side> side_in_ticket(const PageFile& page, const PageSources& sources, const Job& job) {
  for (const JobPage& entry : job.pages)
    if (is_same_file(beside_ticket(sources, entry.file), page.file)) return entry.side;
  for (const JobPage& entry : job.pages)
    if (fs::path(entry.file).filename() == page.file.filename()) return entry.side;
  return std::nullopt;
}

std::vector<PageFile> files_given(const PageSources& sources, const Job& job) {
  std::vector<PageFile> files;
  for (const fs::path& path : sources.paths) {
    std::error_code error;
    if (fs::is_directory(path, error))
      std::ranges::move(files_of_folder(path), std::back_inserter(files));
    else
      files.push_back({path, path.string(), std::nullopt});
  }
  for (PageFile& file : files) file.ticket_side = side_in_ticket(file, sources, job);
  return files;
}

std::vector<PageFile> files_of_ticket(const PageSources& sources, const Job& job) {
  std::vector<PageFile> files;
  for (const JobPage& page : job.pages)
    files.push_back({beside_ticket(sources, page.file), page.file, page.side});
  return files;
}

std::optional<Side> side_of(const PageFile& file, const PageSources& sources, const Job& job) {
  if (!job.folded) return std::nullopt;
  if (sources.side) return sources.side;
  return file.ticket_side.value_or(Side::outside);
}

std::vector<PageTask> pages_of_file(const PageFile& file, std::optional<Side> side) {
  const std::string stem = file.file.stem().string();
  int count = 1;
  try {
    count = count_pages(file.file);
  } catch (const Error& error) {
    return {{file.file, file.shown, 1, side, stem, error.what()}};
  }
  std::vector<PageTask> pages;
  for (int number = 1; number <= count; ++number) {
    const std::string name = count == 1 ? stem : stem + "-p" + std::to_string(number);
    pages.push_back({file.file, file.shown, number, side, name, ""});
  }
  return pages;
}

void refuse_clashes(const std::vector<PageTask>& pages) {
  std::map<std::string, const PageTask*> names;
  for (const PageTask& page : pages) {
    const auto [other, is_new] = names.emplace(page.name, &page);
    if (!is_new)
      throw Error("'" + other->second->shown + "' and '" + page.shown + "' would both be written to " +
                  findings_name(page.name) + "; rename one, or inspect them into different folders with -o");
  }
}

}  // namespace

std::string findings_name(const std::string& name) { return name + ".findings.json"; }
std::string overlay_name(const std::string& name) { return name + ".overlay.png"; }

std::vector<PageTask> list_pages(const PageSources& sources, const Job& job) {
  const auto files = sources.paths.empty() ? files_of_ticket(sources, job) : files_given(sources, job);
  if (files.empty()) throw Error("no pages: name page files or a folder, or list \"pages\" in the ticket");
  std::vector<PageTask> pages;
  for (const PageFile& file : files)
    std::ranges::move(pages_of_file(file, side_of(file, sources, job)), std::back_inserter(pages));
  refuse_clashes(pages);
  return pages;
}

void guard_inputs(const std::vector<PageTask>& pages, const std::optional<fs::path>& ticket,
                  const fs::path& folder) {
  std::vector<fs::path> inputs;
  for (const PageTask& page : pages) inputs.push_back(page.file);
  if (ticket) inputs.push_back(*ticket);
  std::vector<fs::path> results{folder / "summary.json"};
  for (const PageTask& page : pages)
    for (const std::string& name : {findings_name(page.name), overlay_name(page.name)})
      results.push_back(folder / name);
  std::ranges::transform(inputs, inputs.begin(),
                         [](const fs::path& path) { return fs::weakly_canonical(path); });
  std::ranges::sort(inputs);
  for (const fs::path& result : results)
    if (std::ranges::binary_search(inputs, fs::weakly_canonical(result)))
      throw Error(result.string() + " is an input and would be overwritten; choose another folder with -o");
}

}  // namespace frisket
