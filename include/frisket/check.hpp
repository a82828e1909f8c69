#pragma once

#include <span>
#include <string_view>
#include <vector>

#include "frisket/finding.hpp"
#include "frisket/job.hpp"
#include "frisket/page.hpp"

namespace frisket {

/// A check is a plain function over a page that was placed and analysed once; checks never call each other.
struct Check {
  std::string_view name;              ///< as in the report: "safe-zone"
  std::span<const LimitSpec> limits;  ///< declared in the check's own file
  Outcome (*run)(const Page& page, const Job& job, const Limits& limits);
  bool needs_placing = true;  ///< not assessed where the canvas could not be laid under the job
  std::span<const std::string_view> kinds{};  ///< of its findings: a closed list, that of the report's schema
};

/// Every check, in the order of the report.
std::span<const Check> all_checks();
/// The limits of all checks, in the same order.
std::vector<LimitSpec> all_limits();

/// Throws Error that names the key where `job` accepts a finding of a check, or of a kind, that there is not.
void require_known_kinds(const Job& job);

}  // namespace frisket
