// What a run keeps of its pages, and reads back: reports, summaries and their parts, lines of JSON, the
// table.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <iterator>
#include <nlohmann/json.hpp>
#include <set>
#include <string>
#include <vector>

#include "frisket/report.hpp"
#include "report/sample_report.hpp"

namespace frisket {
namespace {

using testing::HasSubstr;
using Json = nlohmann::json;

Report sample() {
  Report report = clear_report(leaflet_job(), 300, Side::outside);
  add_findings(report, {headline_finding(), bleed_finding(), fold_finding(), ppi_finding()});
  report.checks[2].state = CheckResult::State::not_assessed;
  report.checks[2].why = "no bleed on the canvas";
  report.images = {{rect_mm(1, 2, 30, 40), 96.25, 96.0, std::nullopt, "traces of enlarging", 0.97},
                   {rect_mm(1, 2, 30, 40), std::nullopt, std::nullopt, std::nullopt, "too soft", 0}};
  report.placed = Placing::by_marks;
  report.skew = -0.25;
  report.file_notes = {"the name ends in .tif, but it is a PNG"};
  report.file_sha256 = std::string(64, 'a');
  report.job_sha256 = std::string(64, 'b');
  return report;
}

Report with_one_accepted() {
  Report report = sample();
  report.findings.front().accepted = {"=the client wishes it", "M. Orr"};
  return report;
}

void expect_refused(const std::string& report) { EXPECT_THROW(read_report(report), Error) << report; }

TEST(ReadReport, GivesBackWhatWasWritten) {
  const std::string written = report_json(sample());
  EXPECT_EQ(report_json(read_report(written)), written);
  const std::string flat = report_json(clear_report(flat_job({}, {}, {}), 300));
  EXPECT_EQ(report_json(read_report(flat)), flat);
}

/// Places of all members of objects within `json`, as JSON pointers name them (RFC 6901).
std::vector<Json::json_pointer> members_of(const Json& json, const Json::json_pointer& at) {
  std::vector<Json::json_pointer> members;
  if (!json.is_structured()) return members;
  for (const auto& [key, value] : json.items()) {
    const Json::json_pointer here = json.is_array() ? at / std::size_t{std::stoul(key)} : at / key;
    if (json.is_object()) members.push_back(here);
    std::ranges::copy(members_of(value, here), std::back_inserter(members));
  }
  return members;
}

// Found by the fuzzer: fixtures/crashes/report. An edge that was missing was read all the same.
TEST(ReadReport, RefusesOneThatLacksAnythingItReads) {
  const Json whole = Json::parse(report_json(sample()));
  std::set<std::string> read;
  for (const Json::json_pointer& member : members_of(whole, Json::json_pointer())) {
    Json without = whole;
    without[member.parent_pointer()].erase(member.back());
    try {
      read_report(without.dump());
    } catch (const Error&) {
      read.insert(member.back());
    }
  }
  EXPECT_THAT(read, testing::IsSupersetOf({"top", "right", "bottom", "left", "x", "y", "width", "height"}));
}

TEST(ReadReport, GivesBackWhoAcceptedWhat) {
  const std::string written = report_json(with_one_accepted());
  EXPECT_EQ(report_json(read_report(written)), written);
  const Json findings = Json::parse(written)["findings"];
  EXPECT_EQ(findings[0]["accepted"], Json::parse(R"({"why": "=the client wishes it", "who": "M. Orr"})"));
  EXPECT_FALSE(findings[1].contains("accepted"));
}

TEST(Accepted, CountsApart) {
  const PageOutcome before = outcome_of(sample()), after = outcome_of(with_one_accepted());
  EXPECT_EQ(after.fix, before.fix - 1);
  EXPECT_EQ(after.accepted, 1);
  Summary summary;
  summary.pages = {{"a.png", 1, "", after}};
  const Json page = Json::parse(summary_json(summary))["pages"][0];
  EXPECT_EQ(page["fix"], after.fix);
  EXPECT_EQ(page["accepted"], 1);
  EXPECT_EQ(summary_json(read_summary(summary_json(summary))), summary_json(summary));
}

TEST(Accepted, StandsInTheTableWithoutRunningAsAFormula) {
  const std::string rows = csv_rows({"a.png", 1, "", outcome_of(sample())}, report_json(with_one_accepted()));
  EXPECT_THAT(csv_heading(), HasSubstr(",accepted_who,accepted_why\r\n"));
  EXPECT_THAT(rows, HasSubstr(",M. Orr,'=the client wishes it\r\n"));
}

TEST(ReadReport, RefusesWhatIsNoWholeReportOfThisVersion) {
  const std::string written = report_json(sample());
  expect_refused("");
  expect_refused("{}");
  expect_refused(written.substr(0, written.size() / 2));
  Json json = Json::parse(written);
  json["tool"]["version"] = "0.0.0";
  expect_refused(json.dump());
  json = Json::parse(written);
  json["findings"][0].erase("message");
  expect_refused(json.dump());
  json = Json::parse(written);
  json["verdict"] = "splendid";
  expect_refused(json.dump());
}

TEST(JobDigest, ChangesWithAllThatBearsOnAReport) {
  const Job job = leaflet_job();
  const PageRequest request{"a.png", 1, Side::outside, std::nullopt};
  const std::string before = job_sha256(job, request);
  EXPECT_EQ(job_sha256(leaflet_job(), request), before);
  const auto differs = [&](auto change) {
    Job other = leaflet_job();
    PageRequest asked = request;
    change(other, asked);
    return job_sha256(other, asked) != before;
  };
  EXPECT_TRUE(differs([](Job& other, PageRequest&) { other.name += " 2"; }));
  EXPECT_TRUE(differs([](Job& other, PageRequest&) { other.unit = Unit::millimetre; }));
  EXPECT_TRUE(differs([](Job& other, PageRequest&) { other.safe.top += Length::from_mm(1e-6); }));
  EXPECT_TRUE(differs([](Job& other, PageRequest&) { other.dpi = 300; }));
  EXPECT_TRUE(differs([](Job& other, PageRequest&) { other.marks = false; }));
  EXPECT_TRUE(differs([](Job& other, PageRequest&) { other.outside.panels[0].name = "flap"; }));
  EXPECT_TRUE(differs([](Job& other, PageRequest&) { other.outside.own_clear[1] = Length::from_mm(2); }));
  const LimitSpec least{"resolution.least", LimitKind::ppi, 225, 30, 1200, ""};
  EXPECT_TRUE(differs([&](Job& other, PageRequest&) { other.limits.set(least, 225.0, LimitSource::flag); }));
  EXPECT_TRUE(differs([](Job&, PageRequest& asked) { asked.file = "b.png"; }));
  EXPECT_TRUE(differs([](Job&, PageRequest& asked) { asked.number = 2; }));
  EXPECT_TRUE(differs([](Job&, PageRequest& asked) { asked.side = Side::inside; }));
  EXPECT_TRUE(differs([](Job&, PageRequest& asked) { asked.dpi_flag = 300; }));
  EXPECT_FALSE(differs([](Job& other, PageRequest&) { other.pages.push_back({"b.png", {}}); }));
}

// FIPS 180-4: the example digest of "abc", as NIST publishes it.
TEST(Sha256, IsTheStandards) {
  EXPECT_EQ(text_sha256("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
}

Summary run_of(std::size_t files) {
  Summary summary;
  for (std::size_t i = 0; i < files; ++i) {
    const std::string name = "p" + std::to_string(i);
    summary.pages.push_back(
        {name + ".png", 1, "", outcome_of(sample()), name + ".findings.json", name + ".overlay.png", i});
  }
  summary.pages.back() = {"broken.png", 1, "the file is empty", {}, "", "", files - 1};
  summary.hidden = 3;
  summary.unknown = 5;
  return summary;
}

/// Every third page, from `part`, and some of the files that were left alone.
Summary part_of(const Summary& whole, int part) {
  Summary share;
  share.shard = Shard{part, 3, whole.pages.size()};
  for (const SummaryEntry& page : whole.pages)
    if (page.position % 3 == static_cast<std::size_t>(part) - 1) share.pages.push_back(page);
  share.hidden = 1;
  share.unknown = part == 1 ? 5 : 0;
  return share;
}

TEST(SummaryParts, JoinIntoWhatOneRunWrites) {
  const Summary whole = run_of(7);
  const auto read_part = [&](int part) { return read_summary(summary_json(part_of(whole, part))); };
  EXPECT_EQ(summary_json(joined({read_part(3), read_part(1), read_part(2)})), summary_json(whole));
  EXPECT_EQ(summary_json(read_summary(summary_json(whole))), summary_json(whole));
}

TEST(SummaryParts, MustAllBeThereOnceAndBelongTogether) {
  const Summary whole = run_of(7), other = run_of(8);
  const auto complaint = [](std::vector<Summary> parts) -> std::string {
    try {
      joined(std::move(parts));
      return "";
    } catch (const Error& error) {
      return error.what();
    }
  };
  EXPECT_THAT(complaint({part_of(whole, 1), part_of(whole, 2)}), HasSubstr("part 3 of 3 is missing"));
  EXPECT_THAT(complaint({part_of(whole, 1), part_of(whole, 3)}), HasSubstr("part 2 of 3 is missing"));
  EXPECT_THAT(complaint({part_of(whole, 1), part_of(whole, 1), part_of(whole, 2)}), HasSubstr("given twice"));
  EXPECT_THAT(complaint({part_of(whole, 1), part_of(other, 2), part_of(whole, 3)}),
              HasSubstr("different runs"));
  EXPECT_THAT(complaint({part_of(whole, 1), whole}), HasSubstr("whole run"));
  Summary hole = part_of(whole, 2);
  hole.pages.pop_back();
  EXPECT_THAT(complaint({part_of(whole, 1), hole, part_of(whole, 3)}), HasSubstr("do not add up"));
}

TEST(JsonLines, AreOneLineOfAsciiWhateverThePageIsCalled) {
  Report report = sample();
  report.page.file = "new\nline \x1b[31m \xC2\x9B \xE2\x80\xAE caf\xE9.png";
  const SummaryEntry entry{report.page.file, 1, "", outcome_of(report), "a.findings.json", "a.overlay.png"};
  const std::string line = json_line(entry, report_json(report));
  EXPECT_EQ(std::ranges::count(line, '\n'), 1);
  EXPECT_TRUE(std::ranges::all_of(line, [](char c) { return c == '\n' || (c >= ' ' && c < 0x7F); })) << line;
  const Json json = Json::parse(line);
  EXPECT_EQ(json["file"], "new\nline \x1b[31m \xC2\x9B \xE2\x80\xAE caf\xEF\xBF\xBD.png");
  EXPECT_EQ(json["findings"], Json::parse(report_json(report))["findings"]);
  EXPECT_EQ(json["fix"], 2);
}

TEST(JsonLines, SayWhyAPageWasNotInspected) {
  const Json json = Json::parse(json_line({"a.png", 1, "the file is empty"}, ""));
  EXPECT_EQ(json["error"], "the file is empty");
  EXPECT_TRUE(json["verdict"].is_null());
  EXPECT_EQ(json["findings"], Json::array());
}

/// Rows as a reader of RFC 4180 sees them.
std::vector<std::vector<std::string>> cells_of(const std::string& table) {
  std::vector<std::vector<std::string>> rows{{""}};
  bool quoted = false;
  for (std::size_t i = 0; i < table.size(); ++i) {
    const char c = table[i];
    if (quoted && c == '"' && i + 1 < table.size() && table[i + 1] == '"')
      rows.back().back() += table[++i];
    else if (c == '"')
      quoted = !quoted;
    else if (!quoted && c == ',')
      rows.back().emplace_back();
    else if (!quoted && c == '\r' && table[i + 1] == '\n')
      rows.push_back({""}), ++i;
    else
      rows.back().back() += c;
  }
  rows.pop_back();
  return rows;
}

TEST(Table, HasARowAFindingAndOneForEachPageThatFailed) {
  const Report report = sample();
  const SummaryEntry entry{"a.png", 1, "", outcome_of(report), "a.findings.json", "a.overlay.png"};
  const auto rows = cells_of(csv_heading() + csv_rows(entry, report_json(report)) +
                             csv_rows({"b.png", 2, "the file is empty"}, ""));
  ASSERT_EQ(rows.size(), 6u);
  for (const auto& row : rows) EXPECT_EQ(row.size(), rows[0].size());
  const auto column = [&](const std::string& name) {
    return static_cast<std::size_t>(std::ranges::find(rows[0], name) - rows[0].begin());
  };
  EXPECT_EQ(rows[1][column("file")], "a.png");
  EXPECT_EQ(rows[1][column("measured_mm")], "1.9");
  EXPECT_EQ(rows[1][column("y_mm")], "1.9");
  EXPECT_EQ(rows[2][column("x_mm")], "-3.175");  // a number, not a formula
  EXPECT_EQ(rows[4][column("required_ppi")], "300");
  EXPECT_EQ(rows[1][column("message")], report.findings[0].message);
  EXPECT_EQ(rows[5][column("file")], "b.png");
  EXPECT_EQ(rows[5][column("severity")], "error");
  EXPECT_EQ(rows[5][column("message")], "the file is empty");
}

// The characters are those of OWASP, "CSV Injection".
TEST(Table, HoldsNoFormula) {
  Report report = sample();
  report.findings.resize(1);
  for (const std::string start : {"=", "+", "-", "@", "\t", "\r"}) {
    SCOPED_TRACE(start);
    const std::string evil = start + "cmd|' /C calc'!A0,\"x\"";
    report.job.name = evil;
    const SummaryEntry entry{evil, 1, "", outcome_of(report), "", ""};
    const auto rows = cells_of(csv_rows(entry, report_json(report)) + csv_rows({evil, 1, evil}, ""));
    EXPECT_EQ(rows[0][0], "'" + evil);
    EXPECT_EQ(rows[0][2], "'" + evil);
    EXPECT_EQ(rows[1][0], "'" + evil);
    for (const auto& row : rows)
      for (const std::string& cell : row)
        EXPECT_TRUE(cell.empty() || cell[0] == '\'' || std::isalnum(cell[0]) || cell == "-3.175") << cell;
  }
}

}  // namespace
}  // namespace frisket
