#include "report/verdict.hpp"

#include <algorithm>

#include "frisket/report.hpp"

namespace frisket {
namespace {

std::string headline_of(Verdict verdict) {
  switch (verdict) {
    case Verdict::fix:
      return "To mend before printing";
    case Verdict::review:
      return "To be looked at before printing";
    case Verdict::not_assessed:
      return "Not wholly checked";
    case Verdict::note:
      return "Nothing to mend";
    case Verdict::clear:
      return "No finding";
  }
  return "";
}

/// "a", "a and b", "a, b and c".
std::string listed(const std::vector<std::string>& names) {
  std::string list;
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (i > 0) list += i + 1 < names.size() ? ", " : " and ";
    list += names[i];
  }
  return list;
}

bool is_accepted(const Finding& finding) { return finding.accepted.has_value(); }

std::string detail_of(const Report& report) {
  std::vector<std::string> parts;
  if (const int fixes = count_findings(report, Severity::fix))
    parts.push_back(std::to_string(fixes) + " to fix");
  if (const int reviews = count_findings(report, Severity::review))
    parts.push_back(std::to_string(reviews) + " to review");
  if (const int notes = count_findings(report, Severity::note))
    parts.push_back(std::to_string(notes) + (notes == 1 ? " note" : " notes"));
  if (const int accepted = count_accepted(report)) parts.push_back(std::to_string(accepted) + " accepted");
  const std::vector<std::string> missing = not_assessed_checks(report);
  if (!missing.empty()) parts.push_back("could not check " + listed(missing));
  if (parts.empty()) parts.push_back("every check was made and found nothing");
  std::string detail = parts.front();
  for (std::size_t i = 1; i < parts.size(); ++i) detail += ", " + parts[i];
  return detail;
}

}  // namespace

int count_findings(const Report& report, Severity severity) {
  return static_cast<int>(std::ranges::count_if(report.findings, [&](const Finding& finding) {
    return finding.severity == severity && !finding.accepted;
  }));
}

int count_accepted(const Report& report) {
  return static_cast<int>(std::ranges::count_if(report.findings, is_accepted));
}

std::vector<std::string> not_assessed_checks(const Report& report) {
  std::vector<std::string> names;
  for (const CheckResult& check : report.checks)
    if (check.state == CheckResult::State::not_assessed) names.emplace_back(check.check);
  return names;
}

std::vector<std::string> not_assessed_sentences(const Report& report) {
  std::vector<std::string> reasons;
  for (const CheckResult& check : report.checks)
    if (check.state == CheckResult::State::not_assessed && !std::ranges::count(reasons, check.why))
      reasons.push_back(check.why);
  std::vector<std::string> sentences;
  for (const std::string& why : reasons) {
    std::vector<std::string> names;
    for (const CheckResult& check : report.checks)
      if (check.state == CheckResult::State::not_assessed && check.why == why)
        names.emplace_back(check.check);
    sentences.push_back(listed(names) + " not assessed: " + why);
  }
  return sentences;
}

VerdictWords verdict_words(const Report& report) {
  const bool passed = report.verdict == Verdict::clear && count_accepted(report) > 0;
  return {headline_of(passed ? Verdict::note : report.verdict), detail_of(report)};
}

std::string accepted_sentence(const Finding& finding) {
  return finding.accepted ? "Accepted by " + finding.accepted->who + ": " + finding.accepted->why : "";
}

std::string verdict_sentence(const Report& report) {
  const VerdictWords words = verdict_words(report);
  return words.headline + ": " + words.detail;
}

}  // namespace frisket
