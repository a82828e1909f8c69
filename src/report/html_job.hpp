#pragma once

#include <string>

#include "frisket/job.hpp"

namespace frisket {

/// The job as HTML: name, sizes, folds, and each limit with where it came from.
std::string html_job(const Job& job);

}  // namespace frisket
