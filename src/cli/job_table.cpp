#include "cli/job_table.hpp"

#include "cli/result_names.hpp"
#include "frisket/error.hpp"

namespace frisket {

JobTable::JobTable(const JobArguments& arguments) : arguments_(arguments) {
  none_.error =
      "no ticket.json in its folder or in one above it, up to the folder given; put one there, or "
      "give --ticket FILE";
  if (arguments.ticket || arguments.has("trim"))
    common_ = PageJob{frisket::job_of(arguments), "", arguments.ticket};
}

const PageJob& JobTable::job_of(const std::filesystem::path& file, const std::filesystem::path& top) {
  if (common_) return *common_;
  for (std::filesystem::path folder = file.parent_path();; folder = folder.parent_path()) {
    std::error_code ignored;
    if (std::filesystem::exists(folder / ticket_name, ignored)) return read(folder / ticket_name);
    if (folder == top || folder == folder.parent_path()) return none_;
  }
}

/// A wrong ticket is the fault of its own pages, not of the run.
const PageJob& JobTable::read(const std::filesystem::path& ticket) {
  const auto [place, is_new] = by_ticket_.try_emplace(ticket);
  if (!is_new) return place->second;
  place->second.ticket = ticket;
  try {
    place->second.job = read_checked_job(ticket, arguments_.flags);
  } catch (const Error& error) {
    place->second.error = error.what();
  }
  return place->second;
}

}  // namespace frisket
