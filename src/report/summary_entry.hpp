#pragma once

#include "frisket/report.hpp"
#include "report/json_values.hpp"

namespace frisket {

/// One page of a run, as the summary and the lines of JSON have it.
Json entry_json(const SummaryEntry& entry);

}  // namespace frisket
