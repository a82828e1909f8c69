#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <limits>
#include <nlohmann/json.hpp>

#include "frisket/report.hpp"
#include "report/json_values.hpp"
#include "report/sample_report.hpp"
#include "scratch_folder.hpp"

namespace frisket {
namespace {

/// Exit status of tools/validate_json, which asks python3-jsonschema (draft 2020-12).
int validate(const std::string& schema, const std::string& document) {
  const ScratchFolder folder;
  put(folder / "document.json", document);
  const std::string command = std::string(FRISKET_SOURCE_DIR) + "/tools/validate_json " + FRISKET_SOURCE_DIR +
                              "/src/schemas/" + schema + ".schema.json " +
                              (folder / "document.json").string();
  return std::system(command.c_str());
}

Report found_report() {
  Report report = clear_report(leaflet_job(), 300, Side::outside);
  Finding page_wide;
  page_wide.check = "page-size";
  page_wide.kind = "no-bleed";
  page_wide.message = "The canvas has no bleed.";
  add_findings(report, {page_wide, headline_finding(), bleed_finding(), fold_finding(), ppi_finding()});
  report.images.push_back({rect_mm(10, 20, 30, 40), 96.2, 96.0, std::nullopt, "measured", 0.973});
  report.images.push_back(
      {rect_mm(60, 20, 30, 40), std::nullopt, std::nullopt, 300.0, "no enlargement", 0.5});
  report.images.push_back(
      {rect_mm(60, 90, 30, 40), std::nullopt, std::nullopt, std::nullopt, "too smooth", 0});
  return report;
}

std::vector<std::string> keys_of(const Json& json) {
  std::vector<std::string> keys;
  for (const auto& [key, value] : json.items()) keys.push_back(key);
  return keys;
}

TEST(ReportJson, EveryKindOfReportSatisfiesTheSchema) {
  EXPECT_EQ(validate("report", report_json(clear_report(leaflet_job(), 300, Side::inside))), 0);
  EXPECT_EQ(validate("report", report_json(found_report())), 0);
  Report unplaced = clear_report(leaflet_job(), 300);
  unplaced.trim_px = {};
  unplaced.px_per_mm = 0;
  unplaced.checks[1] = {"safe-zone", CheckResult::State::not_assessed, "the page does not fit"};
  unplaced.verdict = Verdict::not_assessed;
  EXPECT_EQ(validate("report", report_json(unplaced)), 0);
}

TEST(ReportJson, TheSchemaRefusesWhatIsNotAReport) {
  const std::string good = report_json(found_report());
  const auto broken = [&](const std::string& from, const std::string& to) {
    std::string bad = good;
    bad.replace(bad.find(from), from.size(), to);
    return validate("report", bad);
  };
  EXPECT_NE(broken("\"text-in-band\"", "\"text-near-fold\""), 0);  // a kind of another check
  EXPECT_NE(broken("\"id\": 1", "\"id\": 0"), 0);
  EXPECT_NE(broken("\"verdict\": \"fix\"", "\"verdict\": \"bad\""), 0);
  EXPECT_NE(broken("\"fold\": null", "\"folds\": null"), 0);
}

TEST(ReportJson, KeysStandInTheOrderOfTheDesign) {
  const Json json = Json::parse(report_json(found_report()));
  EXPECT_THAT(keys_of(json), testing::ElementsAre("frisket_report", "tool", "input", "page", "job", "verdict",
                                                  "checks", "images", "findings"));
  EXPECT_THAT(keys_of(json["page"]),
              testing::ElementsAre("file", "number", "side", "width_px", "height_px", "dpi", "dpi_from",
                                   "placed_by", "skew_degrees", "colour", "notes"));
  EXPECT_THAT(keys_of(json["job"]), testing::ElementsAre("name", "trim_mm", "bleed_mm", "safe_mm", "folds_mm",
                                                         "folds_y_mm", "panels_mm", "trim_px", "limits"));
  EXPECT_THAT(
      keys_of(json["findings"][1]),
      testing::ElementsAre("id", "check", "kind", "severity", "box_mm", "box_px", "whole_mm", "edge", "fold",
                           "panel", "panel_name", "measured_mm", "required_mm", "message", "advice"));
}

TEST(ReportJson, LengthsAreMillimetresAndPixelsOfTheCanvas) {
  const Json json = Json::parse(report_json(found_report()));
  EXPECT_EQ(json["job"]["trim_mm"], Json::parse("[279.4, 215.9]"));
  // Letter fold of 11 in seen from outside, tucked panel 3.625 in: trade practice, see fixtures of the job.
  EXPECT_EQ(json["job"]["folds_mm"], Json::parse("[92.075, 185.7375]"));
  EXPECT_EQ(json["job"]["panels_mm"], Json::parse("[92.075, 93.6625, 93.6625]"));
  EXPECT_EQ(json["job"]["trim_px"], Json::parse(R"({"x": 37.5, "y": 37.5, "width": 3300, "height": 2550})"));
  const Json& headline = json["findings"][1];
  EXPECT_EQ(headline["id"], 2);
  EXPECT_EQ(headline["measured_mm"], 1.9);
  EXPECT_EQ(headline["required_mm"], 6.35);
  EXPECT_EQ(headline["box_px"]["y"], 59.94);  // 37.5 px + 1.9 mm / 25.4 mm x 300
}

TEST(ReportJson, LimitsSayTheirValueAndWhereItCameFrom) {
  const Json limits = Json::parse(report_json(found_report()))["job"]["limits"];
  EXPECT_EQ(limits["fold_safe"], Json::parse(R"({"value": 3.175, "from": "printer"})"));
  EXPECT_EQ(limits["resolution.least"], Json::parse(R"({"value": 225, "from": "default"})"));
  EXPECT_EQ(limits["safe"]["value"]["top"], 6.35);
}

TEST(ReportJson, WhatIsNotKnownIsNull) {
  Report report = found_report();
  report.job.name.clear();
  report.findings[1].measured = Length::from_mm(std::numeric_limits<double>::quiet_NaN());
  report.findings[1].required.reset();
  const Json json = Json::parse(report_json(report));
  EXPECT_TRUE(json["job"]["name"].is_null());
  EXPECT_TRUE(json["findings"][0]["box_mm"].is_null());
  EXPECT_TRUE(json["findings"][1]["measured_mm"].is_null());
  EXPECT_TRUE(json["findings"][1]["required_mm"].is_null());
  EXPECT_TRUE(json["images"][1]["ppi"].is_null());
  EXPECT_TRUE(json["checks"][0]["why"].is_null());
}

TEST(ReportJson, ResolutionIsMeasuredInPixelsPerInch) {
  const Json finding = Json::parse(report_json(found_report()))["findings"][4];
  EXPECT_EQ(finding["measured_ppi"], 96.2);
  EXPECT_EQ(finding["required_ppi"], 300);
  EXPECT_FALSE(finding.contains("measured_mm"));
}

TEST(ReportJson, BytesThatAreNotUtf8AreReplaced) {
  Report report = found_report();
  report.page.file = "caf\xE9 <&\"\n.png";
  const std::string text = report_json(report);
  EXPECT_EQ(Json::parse(text)["page"]["file"], "caf\xEF\xBF\xBD <&\"\n.png");
  EXPECT_EQ(validate("report", text), 0);
}

TEST(JsonNumbers, AreRoundedAndNeverMinusZeroOrNaN) {
  EXPECT_EQ(json_number(1.23456789, 4).dump(), "1.2346");
  EXPECT_EQ(json_number(-0.00001, 4).dump(), "0");
  EXPECT_EQ(json_number(3300.0, 2).dump(), "3300");
  EXPECT_EQ(json_number(92.075, 4).dump(), "92.075");
  EXPECT_EQ(json_number(std::numeric_limits<double>::infinity(), 2).dump(), "null");
  EXPECT_EQ(json_number(1e308, 4).dump(), "null");
}

TEST(SummaryJson, CountsPagesAndSatisfiesTheSchema) {
  const Report found = found_report(), clear = clear_report(leaflet_job(), 300);
  Summary summary;
  summary.pages = {{"a.png", 1, "", outcome_of(found), "a.findings.json", "a.overlay.png"},
                   {"b.png", 1, "", outcome_of(clear), "b.findings.json", "b.overlay.png"},
                   {"c.png", 1, "the file is empty"}};
  const std::string text = summary_json(summary);
  EXPECT_EQ(validate("summary", text), 0);
  const Json json = Json::parse(text);
  EXPECT_EQ(json["pages_total"], 3);
  EXPECT_EQ(json["pages_inspected"], 2);
  EXPECT_EQ(json["verdicts"]["fix"], 1);
  EXPECT_EQ(json["pages"][0]["fix"], 2);
  EXPECT_EQ(json["pages"][2]["error"], "the file is empty");
}

TEST(PlanJson, HoldsTheJobsArithmetic) {
  const std::string text = plan_json(leaflet_job(), 300);
  EXPECT_EQ(validate("plan", text), 0);
  const Json json = Json::parse(text);
  EXPECT_EQ(json["pixels"], Json::parse(R"({"dpi": 300, "width": 3375, "height": 2625})"));
  EXPECT_EQ(json["sides"]["inside"]["folds_mm"], Json::parse("[93.6625, 187.325]"));
  EXPECT_EQ(json["sides"]["outside"]["panels"][0]["name"], "tucked panel");
  EXPECT_EQ(json["sides"]["outside"]["panels"][1]["x_mm"], 92.075);
  EXPECT_TRUE(json["spine_mm"].is_null());
  EXPECT_EQ(json["safe_mm"]["left"], 6.35);
  EXPECT_EQ(json["sides"]["outside"]["clear_of_folds_mm"], Json::parse("[3.175, 3.175]"));
  EXPECT_EQ(json["sides"]["outside"]["panels"][1]["live_mm"],
            Json::parse(R"({"x": 95.25, "y": 6.35, "width": 87.3125, "height": 203.2})"));
  EXPECT_EQ(json["creep_mm"], Json::array());
}

}  // namespace
}  // namespace frisket
