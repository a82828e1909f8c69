#pragma once

#include <string>
#include <vector>

#include "frisket/inspect.hpp"

namespace frisket {

/// A verdict for people, in two parts: what it means and what it rests on.
struct VerdictWords {
  std::string headline;  ///< "To mend before printing"
  std::string detail;    ///< "2 to fix, 1 to review"
};
VerdictWords verdict_words(const Report& report);

/// Who lets a finding pass, and why; empty where nobody does.
std::string accepted_sentence(const Finding& finding);

/// Findings of one severity that were not accepted.
int count_findings(const Report& report, Severity severity);
/// Findings that were.
int count_accepted(const Report& report);
/// Names of the checks that could not be made.
std::vector<std::string> not_assessed_checks(const Report& report);
/// "bleed and folds not assessed: the page is smaller than the trim": one for each reason.
std::vector<std::string> not_assessed_sentences(const Report& report);

}  // namespace frisket
