#pragma once

#include <vector>

#include "frisket/job.hpp"
#include "job/field.hpp"

namespace frisket {

/// The ticket's list of findings that may pass, with the keys of a findings file, so that they can be copied
/// from there. Throws Error that names key, value and what was expected.
std::vector<AcceptedFinding> read_accepted(const Field& field);

}  // namespace frisket
