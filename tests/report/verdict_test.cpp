#include <gtest/gtest.h>

#include "frisket/report.hpp"
#include "report/sample_report.hpp"
#include "report/verdict.hpp"

namespace frisket {
namespace {

TEST(VerdictSentence, SaysWhatItRestsOn) {
  Report report = clear_report(leaflet_job(), 300);
  EXPECT_EQ(verdict_sentence(report), "No finding: every check was made and found nothing");
  add_findings(report, {headline_finding(), fold_finding()});
  EXPECT_EQ(verdict_sentence(report), "To mend before printing: 1 to fix, 1 to review");
}

TEST(VerdictSentence, NeverHidesACheckThatCouldNotBeMade) {
  Report report = clear_report(leaflet_job(), 300);
  for (const std::size_t i : {1, 2, 3}) report.checks[i].state = CheckResult::State::not_assessed;
  report.verdict = Verdict::not_assessed;
  EXPECT_EQ(verdict_sentence(report), "Not wholly checked: could not check safe-zone, bleed and folds");
}

TEST(NotAssessed, IsSaidOnceForEachReason) {
  Report report = clear_report(leaflet_job(), 300);
  for (const std::size_t i : {1, 2, 3}) report.checks[i].state = CheckResult::State::not_assessed;
  report.checks[1].why = report.checks[3].why = "the page does not fit";
  report.checks[2].why = "the page has spot inks";
  const std::vector<std::string> wanted{"safe-zone and folds not assessed: the page does not fit",
                                        "bleed not assessed: the page has spot inks"};
  EXPECT_EQ(not_assessed_sentences(report), wanted);
  EXPECT_TRUE(not_assessed_sentences(clear_report(leaflet_job(), 300)).empty());
}

}  // namespace
}  // namespace frisket
