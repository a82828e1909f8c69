#include "cli/page_text.hpp"

#include <array>
#include <cstdio>

#include "frisket/report.hpp"
#include "report/printable.hpp"

namespace frisket {
namespace {

std::string heading(const PageRequest& page) {
  std::string text = printable(page.file);
  if (page.number > 1) text += ", page " + std::to_string(page.number);
  if (page.side) text += " (" + std::string(side_name(*page.side)) + ")";
  return text + "\n";
}

/// "   3 review  …": the number stands where the overlay has it in a badge.
std::string line(const std::string& number, std::string_view label, std::string_view sentence) {
  std::array<char, 64> start{};
  std::snprintf(start.data(), start.size(), "%4s %-7s ", number.c_str(), std::string(label).c_str());
  return start.data() + printable(sentence) + "\n";
}

}  // namespace

std::string page_text(const Report& report, const std::vector<std::string>& file_notes) {
  std::string text = heading(report.page);
  int number = 0;
  for (const Finding& finding : report.findings)
    text += line(std::to_string(++number), severity_name(finding.severity),
                 finding.advice.empty() ? finding.message : finding.message + " " + finding.advice);
  for (const CheckResult& check : report.checks)
    if (check.state == CheckResult::State::not_assessed)
      text += line("", "", std::string(check.check) + " not assessed: " + check.why);
  for (const std::string& note : file_notes) text += line("", "file", note);
  return text + "     " + verdict_sentence(report) + ".\n";
}

}  // namespace frisket
