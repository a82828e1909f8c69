#include "cli/folder_pages.hpp"

#include <fnmatch.h>

#include <algorithm>
#include <array>

#include "cli/natural_order.hpp"
#include "cli/result_names.hpp"
#include "frisket/error.hpp"

namespace frisket {
namespace {

namespace fs = std::filesystem;

bool has_page_ending(const fs::path& file) {
  constexpr std::array<std::string_view, 11> endings{".png", ".tif", ".tiff", ".jpg", ".jpeg", ".webp",
                                                     ".ppm", ".pgm", ".pbm",  ".pnm", ".pdf"};
  std::string ending = file.extension().string();
  std::ranges::transform(ending, ending.begin(),
                         [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
  return std::ranges::find(endings, ending) != endings.end();
}

bool is_asked(const std::string& relative, const FolderRules& rules) {
  const std::string name = fs::path(relative).filename();
  return rules.only.empty() || std::ranges::any_of(rules.only, [&](const std::string& pattern) {
           const std::string& text = pattern.find('/') == std::string::npos ? name : relative;
           return fnmatch(pattern.c_str(), text.c_str(), FNM_CASEFOLD) == 0;
         });
}

bool is_same_folder(const fs::path& a, const fs::path& b) {
  std::error_code error;
  return fs::equivalent(a, b, error) && !error;
}

/// Walks a folder and sorts what it meets.
class Walk {
 public:
  Walk(const fs::path& top, const FolderRules& rules) : top_(top), rules_(rules) {}

  /// Returns why the folder could not be read; empty where it was.
  std::string enter(const std::string& relative) {
    std::error_code error;
    for (fs::directory_iterator entry(top_ / relative, error), end; !error && entry != end;
         entry.increment(error))
      take(*entry, (fs::path(relative) / entry->path().filename()).string());
    return error ? error.message() : "";
  }

  FolderContents contents;

 private:
  void take(const fs::directory_entry& entry, const std::string& relative) {
    std::error_code ignored;  // a link that leads nowhere is no folder; it is told as a page that is missing
    if (is_result(entry.path())) return;
    if (entry.path().filename().string().front() == '.')
      contents.hidden.push_back(relative);
    else if (entry.is_directory(ignored))
      take_folder(entry, relative);
    else if (!has_page_ending(entry.path()))
      take_other(entry, relative);
    else
      (is_asked(relative, rules_) ? contents.pages : contents.not_asked).push_back(relative);
  }

  void take_folder(const fs::directory_entry& entry, const std::string& relative) {
    if (!rules_.recursive || entry.is_symlink() || is_same_folder(entry.path(), rules_.results)) return;
    if (const std::string reason = enter(relative); !reason.empty())
      contents.unreadable.push_back({relative, reason});
  }

  void take_other(const fs::directory_entry& entry, const std::string& relative) {
    if (entry.path().filename() != ticket_name) contents.unknown.push_back(relative);
  }

  const fs::path& top_;
  const FolderRules& rules_;
};

}  // namespace

FolderContents read_folder(const fs::path& folder, const FolderRules& rules) {
  Walk walk(folder, rules);
  if (const std::string reason = walk.enter(""); !reason.empty())
    throw Error(folder.string() + ": the folder cannot be read: " + reason);
  std::ranges::sort(walk.contents.pages, natural_less);
  std::ranges::sort(walk.contents.unreadable, natural_less, &FolderContents::Unreadable::folder);
  return std::move(walk.contents);
}

}  // namespace frisket
