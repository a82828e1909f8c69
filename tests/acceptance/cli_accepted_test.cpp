// Findings that a person lets pass: from the findings file into the ticket, and back when they get worse.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "acceptance/program.hpp"

namespace frisket {
namespace {

using testing::HasSubstr;
using testing::Not;
using Json = nlohmann::json;

/// Inspects page.png under a ticket that accepts `accepted`.
Ran inspected(const ScratchFolder& folder, const Json& accepted) {
  Json ticket = Json::parse(R"({"frisket_ticket": 1, "trim": [60, 40], "bleed": 3, "safe": 4, "dpi": 300,
                                "pages": [{"file": "page.png"}]})");
  ticket["accepted"] = accepted;
  put(folder / "ticket.json", ticket.dump());
  return run_frisket(folder.path(), {"inspect", "page.png", "other.png", "--ticket", "ticket.json", "--csv"});
}

Json finding_in(const ScratchFolder& folder) {
  EXPECT_EQ(validate_file("report", folder / "page.findings.json"), 0);
  const Json report = Json::parse(content_of(folder / "page.findings.json"));
  EXPECT_EQ(report["findings"].size(), 1u);
  return report["findings"][0];
}

/// As README says: copied from the findings file, with the page, why and who.
Json copied(const Json& finding) {
  Json accepted = {{"page", "page.png"}, {"why", "as the client wishes"}, {"who", "M. Orr"}};
  for (const char* key : {"check", "kind", "box_mm", "measured_mm"}) accepted[key] = finding[key];
  return Json::array({accepted});
}

Rect moved(Length x, Length y) { return {intruder.x + x, intruder.y + y, intruder.width, intruder.height}; }

TEST(AcceptedFindings, CountNoLongerUntilTheyMoveOrGetWorse) {
  const ScratchFolder folder;
  const auto mm = Length::from_mm;
  save_png(small_page(), folder / "other.png");
  save_png(small_page({intruder}), folder / "page.png");
  EXPECT_EQ(inspected(folder, Json::array()).status, 1);
  const Json accepted = copied(finding_in(folder));

  const Ran passed = inspected(folder, accepted);
  EXPECT_EQ(passed.status, 0) << passed.out;
  EXPECT_THAT(passed.out, HasSubstr("   1 passed "));
  EXPECT_THAT(passed.out, HasSubstr("Accepted by M. Orr: as the client wishes"));
  EXPECT_THAT(passed.out, HasSubstr("Accepted in the ticket, and not counted: 1 finding."));
  EXPECT_EQ(finding_in(folder)["accepted"]["who"], "M. Orr");
  EXPECT_EQ(Json::parse(content_of(folder / "page.findings.json"))["verdict"], "clear");
  const Json page = Json::parse(content_of(folder / "summary.json"))["pages"][0];
  EXPECT_EQ(page["fix"], 0);
  EXPECT_EQ(page["accepted"], 1);
  EXPECT_THAT(content_of(folder / "findings.csv"), HasSubstr(",M. Orr,as the client wishes\r\n"));

  save_png(small_page({moved(mm(0), mm(0.25))}), folder / "page.png");
  EXPECT_EQ(inspected(folder, accepted).status, 0) << "farther from the trim is no worse";
  save_png(small_page({moved(mm(0), mm(-0.25))}), folder / "page.png");
  const Ran nearer = inspected(folder, accepted);
  EXPECT_EQ(nearer.status, 1);
  EXPECT_THAT(nearer.out, Not(HasSubstr("passed")));
  save_png(small_page({moved(mm(2), mm(0))}), folder / "page.png");
  EXPECT_EQ(inspected(folder, accepted).status, 1);
}

TEST(AcceptedFindings, AreOfOnePageAlone) {
  const ScratchFolder folder;
  save_png(small_page({intruder}), folder / "page.png");
  save_png(small_page({intruder}), folder / "other.png");
  inspected(folder, Json::array());
  const Ran ran = inspected(folder, copied(finding_in(folder)));
  EXPECT_EQ(ran.status, 1);
  EXPECT_THAT(ran.out, HasSubstr("2 pages, 1 to mend, 1 with nothing to mend."));
}

TEST(AcceptedFindings, OfAnUnknownCheckOrKindAreMisuse) {
  const ScratchFolder folder;
  save_png(small_page({intruder}), folder / "page.png");
  save_png(small_page(), folder / "other.png");
  inspected(folder, Json::array());
  for (const char* key : {"check", "kind"}) {
    Json accepted = copied(finding_in(folder));
    accepted[0][key] = "safe-zome";
    const Ran ran = inspected(folder, accepted);
    EXPECT_EQ(ran.status, 2);
    EXPECT_THAT(ran.err, HasSubstr("ticket.json: \"accepted[0]." + std::string(key) + "\" is \"safe-zome\""));
  }
}

}  // namespace
}  // namespace frisket
