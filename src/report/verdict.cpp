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

std::string joined(const std::vector<std::string>& parts, std::string_view between) {
  std::string whole;
  for (const std::string& part : parts) {
    if (!whole.empty()) whole += between;
    whole += part;
  }
  return whole;
}

std::string detail_of(const Report& report) {
  std::vector<std::string> parts;
  if (const int fixes = count_findings(report, Severity::fix))
    parts.push_back(std::to_string(fixes) + " to fix");
  if (const int reviews = count_findings(report, Severity::review))
    parts.push_back(std::to_string(reviews) + " to review");
  if (const int notes = count_findings(report, Severity::note))
    parts.push_back(std::to_string(notes) + (notes == 1 ? " note" : " notes"));
  const std::vector<std::string> missing = not_assessed_checks(report);
  if (!missing.empty()) parts.push_back("could not check " + joined(missing, " and "));
  if (parts.empty()) parts.push_back("every check was made and found nothing");
  return joined(parts, ", ");
}

}  // namespace

int count_findings(const Report& report, Severity severity) {
  return static_cast<int>(std::ranges::count(report.findings, severity, &Finding::severity));
}

std::vector<std::string> not_assessed_checks(const Report& report) {
  std::vector<std::string> names;
  for (const CheckResult& check : report.checks)
    if (check.state == CheckResult::State::not_assessed) names.emplace_back(check.check);
  return names;
}

VerdictWords verdict_words(const Report& report) { return {headline_of(report.verdict), detail_of(report)}; }

std::string verdict_sentence(const Report& report) {
  const VerdictWords words = verdict_words(report);
  return words.headline + ": " + words.detail;
}

}  // namespace frisket
