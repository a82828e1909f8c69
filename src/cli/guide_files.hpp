#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "frisket/job.hpp"

namespace frisket {

/// Writes the guides of a job into `folder`: NAME-outside.guide.svg, NAME-outside.guide.pdf and the same for
/// the inside; NAME.guide.svg and NAME.guide.pdf for work that is not folded. All or none: what was written
/// before a failure is removed. Returns the files. Throws Error.
std::vector<std::filesystem::path> write_guides(const Job& job, const std::filesystem::path& folder,
                                                const std::string& name);

}  // namespace frisket
