#pragma once

#include <optional>
#include <vector>

#include "cli/crew.hpp"
#include "cli/inspect_command.hpp"
#include "cli/memory_budget.hpp"
#include "cli/page_list.hpp"
#include "cli/progress.hpp"
#include "frisket/report.hpp"

namespace frisket {

/// A run over pages: who inspects which page when, and in which order it is told. The pages themselves are
/// opened in child processes only.
class Run {
 public:
  /// Lists the pages. Throws Error where nothing can be inspected at all.
  explicit Run(const InspectArguments& arguments);
  /// Inspects them and writes all results. Throws Error where the folder of the results is wrong or taken.
  ExitStatus inspect_all();

 private:
  /// What is known of a page so far.
  struct State {
    PageTask task;
    std::size_t position = 0;           ///< of its file among those of the whole run
    std::int64_t pixels = 0;            ///< of the largest page of its file
    std::optional<std::string> answer;  ///< of PageWork; empty until the page is done
  };

  void survey(const PageFiles& files);
  void add_pages(const PageFile& file, std::size_t position, const std::string& found);
  void count_left_alone(const LeftAlone& left_alone);
  void prepare_folders() const;
  void work_through();
  void finish(const Crew::Done& done);
  void tell_in_order();
  void tell(const State& page);
  SummaryEntry entry_of(const State& page) const;
  std::string text_of_page(SummaryEntry& entry) const;
  void remove_results(const PageTask& page) const;

  const InspectArguments& arguments_;
  RasterBounds bounds_;
  JobTable jobs_;
  Summary summary_;
  std::vector<State> pages_;
  std::size_t given_ = 0, told_ = 0, done_ = 0;
  int findings_ = 0;
  MemoryBudget budget_;
  std::optional<Progress> progress_;
};

}  // namespace frisket
