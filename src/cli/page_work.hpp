#pragma once

#include <cstdint>
#include <filesystem>
#include <future>
#include <optional>
#include <string>
#include <vector>

#include "cli/page_list.hpp"
#include "frisket/inspect.hpp"
#include "frisket/raster.hpp"
#include "frisket/stages.hpp"

namespace frisket {

/// What becomes of one page.
struct PageAnswer {
  enum class How { done, failed, interrupted } how = How::done;
  std::string error;  ///< why it failed
};
/// As one text, for the way from one process to another.
std::string text_of(const PageAnswer& answer);
PageAnswer answer_in(const std::string& text);

/// What a page's results were made from, as SHA-256.
struct Digests {
  std::shared_future<std::string> file;  ///< summed while the page is decoded, mostly on a core that is idle
  std::string job;
};

/// What is written of a page.
struct PageResults {
  std::string findings;
  std::string to_read;  ///< HTML; empty where nobody asked for it
  std::vector<std::uint8_t> overlay;
};

/// Inspects pages one after the other and writes their results.
class PageWork {
 public:
  struct Settings {
    std::filesystem::path folder;  ///< of the results
    bool dpi_from_flag = false;
    bool again = false;    ///< inspect even where nothing has changed since the findings were written
    int threads = 1;       ///< for one page
    bool report = false;   ///< write the page's report to read as well
    bool timings = false;  ///< tell how long each stage took
    RasterBounds bounds{};
  };
  explicit PageWork(Settings settings) : settings_(std::move(settings)) {}

  /// Leaves all results of the page or none; those of an earlier run stay where its file, its job and
  /// frisket are the same.
  PageAnswer take(const PageTask& page);

 private:
  void inspect_page(const PageTask& page, const StageSink& sink);
  PageResults results_of(const PageTask& page, const PageRequest& request, const Digests& digests,
                         const StageSink& sink) const;
  void write(const PageTask& page, const PageResults& results) const;
  bool is_unchanged(const PageTask& page, const Digests& digests) const;
  const std::string& sha_of(const std::filesystem::path& file);

  Settings settings_;
  bool ready_ = false;
  std::filesystem::path summed_;  ///< the file whose digest is kept: the next page is often of the same
  std::string sum_;
};

}  // namespace frisket
