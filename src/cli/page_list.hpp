#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "cli/folder_pages.hpp"
#include "cli/job_table.hpp"

namespace frisket {

/// A file of a run, before its pages are counted.
struct PageFile {
  std::filesystem::path file;
  std::string shown;  ///< as the report names it: as given, or relative to the folder given
  std::string name;   ///< of its results: as `shown` without the ending; its folder only within a folder
  const PageJob* job = nullptr;
  std::optional<Side> side;  ///< empty for work that is not folded
  std::string error;         ///< why it cannot be inspected; empty where it may be
  std::string ticket{};      ///< of its job, as `shown` is; empty where there is none
  bool side_taken = false;   ///< nothing said the side: outside, or of two pages outside and inside
};

/// One page to be inspected.
struct PageTask {
  PageFile file;
  int number = 1;    ///< page within the file, from 1
  std::string name;  ///< of its results: NAME.findings.json, NAME.overlay.png
};

/// How many files of the folders given are no pages, and why.
struct LeftAlone {
  std::vector<std::string> hidden, unknown, not_asked;
};

/// Where pages come from: the paths given, else the ticket's list.
struct PageSources {
  std::vector<std::filesystem::path> paths;  ///< files and folders, as given
  std::optional<Side> side;                  ///< as --side says
  FolderRules rules;
};

/// All files in the order in which they are inspected, and what was left alone in the folders.
struct PageFiles {
  std::vector<PageFile> files;
  LeftAlone left_alone;
};

/// Opens the folders among the sources and finds the job of every file. Throws Error where there is no page,
/// no page has a job, or a folder cannot be read.
PageFiles list_files(const PageSources& sources, JobTable& jobs);

/// The pages of a file that has `count`, called NAME, or NAME-p1, NAME-p2 where it has several. Where nothing
/// said their side, two pages are taken for outside and inside.
std::vector<PageTask> pages_of_file(const PageFile& file, int count);

/// Throws Error where two pages would be written to the same files.
void refuse_clashes(const std::vector<PageTask>& pages);

/// Throws Error where a result in `folder` would overwrite a page or a ticket.
void guard_inputs(const std::vector<PageTask>& pages, const std::filesystem::path& folder);

}  // namespace frisket
