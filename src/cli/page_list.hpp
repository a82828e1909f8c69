#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "frisket/job.hpp"

namespace frisket {

/// One page to be inspected.
struct PageTask {
  std::filesystem::path file;
  std::string shown;         ///< as the report names the file
  int number = 1;            ///< page within the file, from 1
  std::optional<Side> side;  ///< empty for work that is not folded
  std::string name;          ///< of its results: NAME.findings.json, NAME.overlay.png
  std::string error;         ///< why the file could not even be counted; empty where it was
};

/// Where pages come from: the paths given, else the ticket's list.
struct PageSources {
  std::vector<std::filesystem::path> paths;  ///< files and folders, as given
  std::optional<std::filesystem::path> ticket;
  std::optional<Side> side;  ///< as --side says
};

/// All pages in the order in which they are inspected: folders opened (image files directly in them, in
/// natural order), files of several pages counted out as NAME-p1, NAME-p2. Throws Error where there is no
/// page, a folder cannot be read or two pages would have the same name.
std::vector<PageTask> list_pages(const PageSources& sources, const Job& job);

/// Throws Error where a result in `folder` would overwrite a page or the ticket.
void guard_inputs(const std::vector<PageTask>& pages, const std::optional<std::filesystem::path>& ticket,
                  const std::filesystem::path& folder);

/// The names of the files that hold the results of a page called `name`.
std::string findings_name(const std::string& name);
std::string overlay_name(const std::string& name);

}  // namespace frisket
