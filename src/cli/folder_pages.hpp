#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace frisket {

/// Which files of a folder are taken as pages.
struct FolderRules {
  bool recursive = false;
  /// Wildcards, any of which a page must match, whatever its case: "*.tif" by its name, "sub/*" by its path.
  std::vector<std::string> only;
  std::filesystem::path results;  ///< the folder of the results: not entered
};

/// What a folder holds. Paths are relative to it.
struct FolderContents {
  std::vector<std::string> pages;      ///< in natural order
  std::vector<std::string> hidden;     ///< files and folders whose name begins with a full stop
  std::vector<std::string> unknown;    ///< no pages by their ending
  std::vector<std::string> not_asked;  ///< pages that --only leaves out
  struct Unreadable {
    std::string folder, reason;
  };
  std::vector<Unreadable> unreadable;  ///< folders within that cannot be read
};

/// Sorts the files of `folder` by their names; none is opened. Links to folders are not followed; tickets and
/// what frisket writes itself are neither pages nor unknown. Throws Error where `folder` itself cannot be
/// read.
FolderContents read_folder(const std::filesystem::path& folder, const FolderRules& rules);

}  // namespace frisket
