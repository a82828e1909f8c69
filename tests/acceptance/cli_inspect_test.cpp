// frisket inspect on good pages: exit statuses, the files it writes and the sides it takes.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "acceptance/program.hpp"

namespace frisket {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using Json = nlohmann::json;

TEST(Inspect, CleanPageGivesStatus0AndTwoFilesThatSatisfyTheSchema) {
  const ScratchFolder folder;
  save_png(small_page(), folder / "page.png");
  const Ran ran = run_frisket(folder.path(), with_job({"inspect", "page.png"}, {"-o", "new/folder"}));
  EXPECT_EQ(ran.status, 0) << ran.out;
  EXPECT_THAT(ran.err, IsEmpty());
  EXPECT_THAT(ran.out, HasSubstr("page.png"));
  EXPECT_THAT(ran.out, HasSubstr("No finding"));
  EXPECT_EQ(validate_file("report", folder / "new/folder/page.findings.json"), 0);
  EXPECT_TRUE(content_of(folder / "new/folder/page.overlay.png").starts_with("\x89PNG"));
  EXPECT_FALSE(std::filesystem::exists(folder / "new/folder/summary.json"));
}

TEST(Inspect, FaultyPageGivesStatus1AndOneLinePerFinding) {
  const ScratchFolder folder;
  save_png(small_page({intruder}), folder / "page.png");
  const Ran ran = run_frisket(folder.path(), with_job({"inspect", "page.png"}));
  EXPECT_EQ(ran.status, 1);
  EXPECT_EQ(validate_file("report", folder / "page.findings.json"), 0);
  const Json report = Json::parse(content_of(folder / "page.findings.json"));
  EXPECT_EQ(report["verdict"], "fix");
  ASSERT_EQ(report["findings"].size(), 1u);
  EXPECT_NEAR(report["findings"][0]["measured_mm"], 2.0, 0.1);
  EXPECT_EQ(report["findings"][0]["edge"], "top");
  EXPECT_THAT(ran.out, HasSubstr("   1 fix "));
  EXPECT_EQ(std::ranges::count(ran.out, '\n'), 3) << ran.out;  // heading, finding, verdict
}

TEST(Inspect, FailOnChoosesTheSeverityThatCounts) {
  const ScratchFolder folder;
  // 0.3 mm (0.85 pt) into the safe zone: to review, as it is 1 pt or less.
  save_png(small_page({{Length::from_mm(20), Length::from_mm(3.7), Length::from_mm(12), Length::from_mm(6)}}),
           folder / "page.png");
  EXPECT_EQ(run_frisket(folder.path(), with_job({"inspect", "page.png"})).status, 0);
  EXPECT_EQ(run_frisket(folder.path(), with_job({"inspect", "page.png"}, {"--fail-on", "review"})).status, 1);
  EXPECT_EQ(run_frisket(folder.path(), with_job({"inspect", "page.png"}, {"--fail-on", "note"})).status, 1);
}

TEST(Inspect, AFailedPageOutweighsAFinding) {
  const ScratchFolder folder;
  save_png(small_page({intruder}), folder / "a.png");
  const Ran ran = run_frisket(folder.path(), with_job({"inspect", "a.png", "none.png"}));
  EXPECT_EQ(ran.status, 3);
  EXPECT_EQ(validate_file("summary", folder / "summary.json"), 0);
  const Json summary = Json::parse(content_of(folder / "summary.json"));
  EXPECT_EQ(summary["pages_total"], 2);
  EXPECT_EQ(summary["pages_inspected"], 1);
  EXPECT_THAT(summary["pages"][1]["error"].get<std::string>(), HasSubstr("no such file"));
}

TEST(Inspect, TwoRunsGiveTheSameBytes) {
  const ScratchFolder folder;
  save_png(small_page({intruder}), folder / "page.png");
  for (const std::string out : {"one", "two"})
    run_frisket(folder.path(), with_job({"inspect", "page.png"}, {"-o", out}));
  for (const std::string name : {"page.findings.json", "page.overlay.png"})
    EXPECT_EQ(content_of(folder / ("one/" + name)), content_of(folder / ("two/" + name))) << name;
}

TEST(Inspect, TimingsAreToldOnStderrAloneAndChangeNoResult) {
  const ScratchFolder folder;
  save_png(small_page({intruder}), folder / "page.png");
  const Ran plain = run_frisket(folder.path(), with_job({"inspect", "page.png"}, {"-o", "plain"}));
  const Ran timed =
      run_frisket(folder.path(), with_job({"inspect", "page.png", "--timings"}, {"-o", "timed"}));
  EXPECT_THAT(plain.err, IsEmpty());
  EXPECT_EQ(timed.out, plain.out);
  EXPECT_THAT(timed.err, testing::StartsWith("page.png\n"));
  std::size_t at = 0;  // in this order, each with its seconds
  for (const std::string stage :
       {"digests", "decoding", "placing", "surfaces", "elements", "text", "pictures", "page-size",
        "safe-zone", "resolution", "overlay", "writing", "all"}) {
    at = timed.err.find("\n  " + stage + " ", at);
    ASSERT_NE(at, std::string::npos) << stage << " in\n" << timed.err;
  }
  for (const std::string name : {"page.findings.json", "page.overlay.png"})
    EXPECT_EQ(content_of(folder / ("plain/" + name)), content_of(folder / ("timed/" + name))) << name;
}

TEST(Inspect, TakesPagesAndSidesFromTheTicketWhereverItIsRunFrom) {
  const ScratchFolder folder;
  std::filesystem::create_directory(folder / "job");
  save_png(small_page(), folder / "job/front.png");
  save_png(small_page(), folder / "job/back.png");
  put(folder / "job/ticket.json",
      R"({"frisket_ticket": 1, "trim": [60, 40], "bleed": 3, "folds": {"kind": "half"},
    "pages": [{"file": "front.png", "side": "outside"}, {"file": "back.png", "side": "inside"}]})");
  const Ran ran = run_frisket(folder.path(), {"inspect", "--ticket", "job/ticket.json", "-o", "out"});
  EXPECT_EQ(ran.status, 0) << ran.out << ran.err;
  const Json pages = Json::parse(content_of(folder / "out/summary.json"))["pages"];
  EXPECT_EQ(pages[0]["file"], "front.png");
  EXPECT_EQ(pages[0]["side"], "outside");
  EXPECT_EQ(pages[1]["side"], "inside");

  // The ticket knows the side of a page that is named on the command line; the flag overrides it.
  const auto side_of_back = [&](std::vector<std::string> more) {
    std::vector<std::string> command{"inspect", "job/back.png", "--ticket", "job/ticket.json", "-o", "out"};
    command.insert(command.end(), more.begin(), more.end());
    run_frisket(folder.path(), command);
    return Json::parse(content_of(folder / "out/back.findings.json"))["page"]["side"];
  };
  EXPECT_EQ(side_of_back({}), "inside");
  EXPECT_EQ(side_of_back({"--side", "outside"}), "outside");
}

TEST(Inspect, WorkThatIsNotFoldedHasNoSide) {
  const ScratchFolder folder;
  save_png(small_page(), folder / "page.png");
  run_frisket(folder.path(), with_job({"inspect", "page.png"}));
  EXPECT_TRUE(Json::parse(content_of(folder / "page.findings.json"))["page"]["side"].is_null());
  run_frisket(folder.path(), with_job({"inspect", "page.png"}, {"--fold", "half"}));
  EXPECT_EQ(Json::parse(content_of(folder / "page.findings.json"))["page"]["side"], "outside");
}

TEST(Inspect, SaysThatASideWasTakenWhereTheFoldsOfTheOtherLieElsewhere) {
  const ScratchFolder folder;
  save_png(small_page(), folder / "page.png");
  const auto told = [&](std::vector<std::string> more) {
    std::vector<std::string> command = with_job({"inspect", "page.png", "--again"});
    command.insert(command.end(), more.begin(), more.end());
    return run_frisket(folder.path(), command).out;
  };
  const auto taken = HasSubstr("taken for the outside");
  EXPECT_THAT(told({"--fold", "21,20,19mm"}), taken);
  EXPECT_THAT(told({"--fold", "21,20,19mm", "--side", "outside"}), Not(taken));
  EXPECT_THAT(told({"--fold", "half"}), Not(taken));
}

TEST(Inspect, TakesTwoPagesOfAFileForOutsideAndInside) {
  const ScratchFolder folder;
  vips::VImage both = small_page().join(small_page(), VIPS_DIRECTION_VERTICAL).copy_memory();
  both.set("page-height", small_page().height());
  both.write_to_file((folder / "both.tif").c_str());
  const auto sides = [&](std::vector<std::string> more) {
    std::vector<std::string> command = with_job({"inspect", "both.tif", "--fold", "21,20,19mm"});
    command.insert(command.end(), more.begin(), more.end());
    run_frisket(folder.path(), command);
    const Json pages = Json::parse(content_of(folder / "summary.json"))["pages"];
    return pages[0]["side"].get<std::string>() + ", " + pages[1]["side"].get<std::string>();
  };
  EXPECT_EQ(sides({}), "outside, inside");
  EXPECT_EQ(sides({"--side", "outside"}), "outside, outside");
}

TEST(Inspect, ResolutionComesFromFlagThenTicketThenFile) {
  const ScratchFolder folder;
  save_png(small_page(), folder / "page.png");
  const auto dpi_from = [&](std::vector<std::string> arguments) {
    run_frisket(folder.path(), arguments);
    const Json page = Json::parse(content_of(folder / "page.findings.json"))["page"];
    return page["dpi_from"].get<std::string>() + " " + page["dpi"].dump();
  };
  EXPECT_THAT(dpi_from(with_job({"inspect", "page.png"})), testing::StartsWith("file 300"));
  put(folder / "t.json", R"({"frisket_ticket": 1, "trim": [60, 40], "dpi": 300})");
  EXPECT_EQ(dpi_from({"inspect", "page.png", "--ticket", "t.json"}), "ticket 300");
  EXPECT_EQ(dpi_from({"inspect", "page.png", "--ticket", "t.json", "--dpi", "300"}), "flag 300");
}

TEST(Inspect, InterruptedKeepsFinishedPagesAndSaysSo) {
  const ScratchFolder folder;
  std::filesystem::create_directory(folder / "job");
  const vips::VImage large = small_page({intruder}).resize(3);
  for (int i = 1; i <= 40; ++i) save_png(large, folder / ("job/page" + std::to_string(i) + ".png"));
  const Ran ran = run_frisket(
      folder.path(), {"inspect", "job", "--trim", "60x40mm", "--bleed", "3mm", "--dpi", "900", "-o", "out"},
      folder / "out/page1.findings.json");
  EXPECT_EQ(ran.status, 130) << ran.err;
  const Json summary = Json::parse(content_of(folder / "out/summary.json"));
  EXPECT_GT(summary["pages_inspected"], 0);
  EXPECT_LT(summary["pages_inspected"], 40);
  EXPECT_EQ(validate_file("summary", folder / "out/summary.json"), 0);
  for (const auto& entry : std::filesystem::directory_iterator(folder / "out"))
    EXPECT_FALSE(entry.path().filename().string().starts_with(".")) << "a leftover: " << entry.path();
}

}  // namespace
}  // namespace frisket
