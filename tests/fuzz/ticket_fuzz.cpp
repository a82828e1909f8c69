// Tickets and printer files as frisket reads them, and all that is worked out from those it takes.
#include <span>

#include "frisket/check.hpp"
#include "frisket/job.hpp"
#include "frisket/report.hpp"
#include "memory_file.hpp"
#include "target.hpp"

namespace frisket {
namespace {

void work_out(const Job& job) {
  require(!plan_json(job, 300).empty() && !plan_text(job, 300).empty(), "a plan for every job");
  for (const Side side : {Side::inside, Side::outside})
    require(!guide_svg(job, side).empty() && !guide_pdf(job, side).empty(), "a guide for every job");
  require(job_sha256(job, {"page.png", 1, Side::inside, std::nullopt}).size() == 64, "a digest of every job");
}

void read_and_work_out(const std::filesystem::path& ticket) {
  static const std::vector<LimitSpec> limits = all_limits();
  try {
    work_out(read_job(ticket, {}, limits));
  } catch (const Error& error) {
    require(error.what()[0] != '\0', "every error has words");
  }
}

/// A ticket that leaves all else to its printer.
std::string ticket_with_printer(const std::filesystem::path& printer) {
  return R"({"frisket_ticket": 1, "trim": "A4", "folds": "half", "printer": ")" + printer.string() + "\"}";
}

}  // namespace
}  // namespace frisket

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const frisket::MemoryFile given({data, size});
  frisket::read_and_work_out(given.path());
  const std::string text = frisket::ticket_with_printer(given.path());
  const frisket::MemoryFile ticket({reinterpret_cast<const std::uint8_t*>(text.data()), text.size()});
  frisket::read_and_work_out(ticket.path());
  return 0;
}
