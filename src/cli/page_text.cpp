#include "cli/page_text.hpp"

#include <algorithm>
#include <array>
#include <cstdio>

#include "frisket/report.hpp"
#include "report/printable.hpp"
#include "report/verdict.hpp"

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

/// ", 3 to mend"; nothing where there is none.
std::string counted(std::ptrdiff_t count, const std::string& what) {
  return count == 0 ? "" : ", " + std::to_string(count) + " " + what;
}

std::ptrdiff_t pages_at(const Summary& summary, Verdict verdict) {
  return std::ranges::count_if(summary.pages, [&](const SummaryEntry& page) {
    return page.outcome && page.outcome->verdict == verdict;
  });
}

std::string left_alone_text(const Summary& summary) {
  std::string files;
  for (const auto& [count, what] :
       {std::pair(summary.hidden, "hidden"), std::pair(summary.unknown, "of another kind"),
        std::pair(summary.not_asked, "not asked for")})
    files += counted(static_cast<std::ptrdiff_t>(count), what);
  return files.empty() ? "" : "Left alone: " + files.substr(2) + ".\n";
}

std::string accepted_text(const Summary& summary) {
  int accepted = 0;
  for (const SummaryEntry& page : summary.pages) accepted += page.outcome ? page.outcome->accepted : 0;
  if (accepted == 0) return "";
  return "Accepted in the ticket, and not counted: " + std::to_string(accepted) +
         (accepted == 1 ? " finding.\n" : " findings.\n");
}

/// What was found and what to do, or who lets it pass.
std::string sentence_of(const Finding& finding) {
  const std::string then = finding.accepted ? accepted_sentence(finding) : finding.advice;
  return then.empty() ? finding.message : finding.message + " " + then;
}

}  // namespace

std::string page_text(const Report& report) {
  std::string text = heading(report.page);
  int number = 0;
  for (const Finding& finding : report.findings)
    text += line(std::to_string(++number), finding.accepted ? "passed" : severity_name(finding.severity),
                 sentence_of(finding));
  for (const std::string& sentence : not_assessed_sentences(report)) text += line("", "", sentence);
  for (const std::string& note : report.file_notes) text += line("", "file", note);
  return text + "     " + verdict_sentence(report) + ".\n";
}

std::string run_text(const Summary& summary) {
  const std::ptrdiff_t failed = std::ranges::count_if(
      summary.pages, [](const SummaryEntry& page) { return !page.outcome.has_value(); });
  std::string text = summary.complete ? "" : "Interrupted: this is a part of the run. ";
  text += std::to_string(summary.pages.size()) + (summary.pages.size() == 1 ? " page" : " pages");
  text +=
      counted(failed, "not inspected") + counted(pages_at(summary, Verdict::fix), "to mend") +
      counted(pages_at(summary, Verdict::review), "to look at") +
      counted(pages_at(summary, Verdict::not_assessed), "not wholly checked") +
      counted(pages_at(summary, Verdict::note) + pages_at(summary, Verdict::clear), "with nothing to mend");
  return text + ".\n" + accepted_text(summary) + left_alone_text(summary);
}

}  // namespace frisket
