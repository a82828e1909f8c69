// Tickets and flags, good and bad, as the program takes them.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "acceptance/program.hpp"

namespace frisket {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using Json = nlohmann::json;

const std::filesystem::path tickets = std::filesystem::path(FRISKET_SOURCE_DIR) / "fixtures/tickets";

void expect_misused(const Ran& ran, const std::string& words) {
  EXPECT_EQ(ran.status, 2) << ran.out;
  EXPECT_TRUE(ran.err.starts_with("frisket: ")) << ran.err;
  EXPECT_EQ(std::ranges::count(ran.err, '\n'), 1) << ran.err;
  EXPECT_THAT(ran.err, HasSubstr(words));
  EXPECT_THAT(ran.out, IsEmpty());
}

TEST(Tickets, EveryBadOneIsMisuseInOneLineThatNamesIt) {
  const ScratchFolder folder;
  save_png(small_page(), folder / "page.png");
  int count = 0;
  for (const auto& entry : std::filesystem::directory_iterator(tickets / "bad")) {
    if (entry.path().extension() != ".json") continue;
    SCOPED_TRACE(entry.path().filename().string());
    expect_misused(run_frisket(folder.path(), {"inspect", "page.png", "--ticket", entry.path()}), ".json");
    ++count;
  }
  EXPECT_GT(count, 20);
  EXPECT_THAT(folder.names(), ElementsAre("page.png"));
}

TEST(Tickets, FaultsNameTheKeyAndWhatWasExpected) {
  const ScratchFolder folder;
  const auto with_ticket = [&](const std::string& ticket) {
    put(folder / "ticket.json", ticket);
    return run_frisket(folder.path(), {"plan", "--ticket", "ticket.json"});
  };
  expect_misused(with_ticket(R"({"frisket_ticket": 1, "trim": "A4", "bled": 3})"), "bled");
  expect_misused(with_ticket(R"({"frisket_ticket": 1, "trim": "A4", "bleed": true})"), "bleed");
  expect_misused(with_ticket(R"({"frisket_ticket": 1, "trim": "A4", "bleed": -3})"), "-3");
  expect_misused(with_ticket(R"({"frisket_ticket": 1, "trim": "A4", "bleed": NaN})"), "ticket.json");
  expect_misused(with_ticket(R"({"frisket_ticket": 1, "trim": "A4", "safe": 120})"), "safe");
  expect_misused(
      with_ticket(R"({"frisket_ticket": 1, "trim": [297, 210], "folds": {"panels": [99, 99, 98]}})"),
      "panels");
}

TEST(Tickets, GoodOnesArePlannedAsTheSchemaSays) {
  const ScratchFolder folder;
  int count = 0;
  for (const auto& entry : std::filesystem::directory_iterator(tickets)) {
    if (!entry.is_regular_file() || content_of(entry.path()).find("\"frisket_ticket\"") == std::string::npos)
      continue;
    SCOPED_TRACE(entry.path().filename().string());
    const Ran ran = run_frisket(folder.path(), {"plan", "--json", "--ticket", entry.path()});
    EXPECT_EQ(ran.status, 0) << ran.err;
    put(folder / "plan.json", ran.out);
    EXPECT_EQ(validate_file("plan", folder / "plan.json"), 0);
    ++count;
  }
  EXPECT_GT(count, 3);
}

// Letter fold of 11 in: panels 3.6875, 3.6875, 3.625 in; pixels at 300 dpi with 1/8 in of bleed 3375 x 2625.
TEST(Plan, HoldsThePublishedNumbersOfALetterFold) {
  const ScratchFolder folder;
  const Ran ran = run_frisket(
      folder.path(), {"plan", "--json", "--trim", "11x8.5in", "--bleed", "0.125in", "--fold", "letter"});
  const Json plan = Json::parse(ran.out);
  EXPECT_EQ(plan["sides"]["inside"]["folds_mm"], Json::parse("[93.6625, 187.325]"));
  EXPECT_EQ(plan["sides"]["outside"]["folds_mm"], Json::parse("[92.075, 185.7375]"));
  EXPECT_EQ(plan["pixels"], Json::parse(R"({"dpi": 300, "width": 3375, "height": 2625})"));
  EXPECT_THAT(run_frisket(folder.path(), {"plan", "--trim", "11x8.5in", "--fold", "letter"}).out,
              HasSubstr("2, from the left   7.375         7 3/8"));
}

TEST(Flags, WrongOnesAreMisuse) {
  const ScratchFolder folder;
  save_png(small_page(), folder / "page.png");
  expect_misused(run_frisket(folder.path(), {}), "name a command");
  expect_misused(run_frisket(folder.path(), {"inspect", "page.png"}), "--ticket");
  expect_misused(run_frisket(folder.path(), {"inspect", "--trim", "A6"}), "no pages");
  expect_misused(run_frisket(folder.path(), {"inspect", "page.png", "--trim", "60x"}), "--trim");
  expect_misused(run_frisket(folder.path(), {"inspect", "page.png", "--ticket", "none.json"}), "none.json");
  expect_misused(run_frisket(folder.path(), with_job({"inspect", "page.png"}, {"--nonsense"})), "--nonsense");
  expect_misused(run_frisket(folder.path(), with_job({"inspect", "page.png"}, {"--fail-on", "x"})),
                 "fail-on");
  expect_misused(run_frisket(folder.path(), with_job({"inspect", "page.png"}, {"--dpi", "0"})), "dpi");
  expect_misused(run_frisket(folder.path(), with_job({"inspect", "page.png"}, {"--cut-tolerance", "-1mm"})),
                 "-1mm");
  EXPECT_THAT(folder.names(), ElementsAre("page.png"));
}

TEST(Flags, AnswerWhatIsAsked) {
  const ScratchFolder folder;
  const Ran version = run_frisket(folder.path(), {"--version"});
  EXPECT_EQ(version.status, 0);
  EXPECT_THAT(version.out, testing::StartsWith("frisket "));
  const Ran help = run_frisket(folder.path(), {"inspect", "--help"});
  EXPECT_EQ(help.status, 0);
  for (const std::string flag :
       {"--trim", "--bleed", "--safe", "--fold-safe", "--cut-tolerance", "--fail-on"})
    EXPECT_THAT(help.out, HasSubstr(flag));
}

TEST(Flags, OverrideTheTicketAndAreNamedAsTheSource) {
  const ScratchFolder folder;
  save_png(small_page(), folder / "page.png");
  put(folder / "ticket.json", R"({"frisket_ticket": 1, "trim": [60, 40], "bleed": 3, "safe": 5})");
  const Ran ran =
      run_frisket(folder.path(), {"inspect", "page.png", "--ticket", "ticket.json", "--safe", "4mm"});
  EXPECT_EQ(ran.status, 0) << ran.err;
  const Json limits = Json::parse(content_of(folder / "page.findings.json"))["job"]["limits"];
  EXPECT_EQ(limits["safe"]["value"]["top"], 4);
  EXPECT_EQ(limits["safe"]["from"], "flag");
  EXPECT_EQ(limits["bleed"]["from"], "ticket");
  EXPECT_EQ(limits["cut_tolerance"]["from"], "default");
}

}  // namespace
}  // namespace frisket
