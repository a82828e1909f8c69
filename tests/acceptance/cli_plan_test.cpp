// frisket plan -o: guides on disk, whole or absent.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "acceptance/program.hpp"

namespace frisket {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

const std::vector<std::string> leaflet{"plan",    "--trim", "11x8.5in", "--bleed",
                                       "0.125in", "--fold", "letter"};

std::vector<std::string> with(std::vector<std::string> arguments, const std::vector<std::string>& more) {
  arguments.insert(arguments.end(), more.begin(), more.end());
  return arguments;
}

TEST(PlanGuides, AreWrittenForEachSideAndNamed) {
  const ScratchFolder folder;
  const Ran ran = run_frisket(folder.path(), with(leaflet, {"-o", "guides"}));
  EXPECT_EQ(ran.status, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("guides/job-outside.guide.pdf\n"));
  std::vector<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(folder / "guides"))
    names.push_back(entry.path().filename());
  std::ranges::sort(names);
  EXPECT_THAT(names, ElementsAre("job-inside.guide.pdf", "job-inside.guide.svg", "job-outside.guide.pdf",
                                 "job-outside.guide.svg"));
}

TEST(PlanGuides, OfATicketAreCalledAfterItAndLeaveJsonAlone) {
  const ScratchFolder folder;
  put(folder / "card.json", R"({"frisket_ticket": 1, "trim": [85, 55]})");
  const Ran ran = run_frisket(folder.path(), {"plan", "--json", "--ticket", "card.json", "-o", "."});
  EXPECT_EQ(ran.status, 0) << ran.err;
  EXPECT_EQ(nlohmann::json::parse(ran.out)["frisket_plan"], 1);
  EXPECT_THAT(folder.names(), ElementsAre("card.guide.pdf", "card.guide.svg", "card.json"));
}

TEST(PlanHelp, SaysOfItsFlagsWhatIsTrueOfThePlan) {
  const ScratchFolder folder;
  const Ran plan = run_frisket(folder.path(), {"plan", "--help"});
  EXPECT_THAT(plan.out, HasSubstr("How far colour must go on beyond the trim (default 3.0 mm)"));
  EXPECT_THAT(plan.out, testing::ContainsRegex("--bleed LENGTH +How far"));
  EXPECT_THAT(plan.out, testing::Not(HasSubstr("each page is of")));
  EXPECT_THAT(run_frisket(folder.path(), {"inspect", "--help"}).out, HasSubstr("each page is of"));
}

TEST(PlanGuides, AreNotWrittenUnasked) {
  const ScratchFolder folder;
  EXPECT_EQ(run_frisket(folder.path(), leaflet).status, 0);
  EXPECT_THAT(folder.names(), IsEmpty());
}

TEST(PlanGuides, IntoAFileAreMisuse) {
  const ScratchFolder folder;
  put(folder / "taken", "");
  const Ran ran = run_frisket(folder.path(), with(leaflet, {"-o", "taken"}));
  EXPECT_EQ(ran.status, 2);
  EXPECT_THAT(ran.out, IsEmpty());
  EXPECT_THAT(ran.err, HasSubstr("taken: cannot write into this folder"));
}

TEST(PlanGuides, AreAllThereOrNone) {
  const ScratchFolder folder;
  std::filesystem::create_directories(folder / "job-inside.guide.pdf" / "in-the-way");
  const Ran ran = run_frisket(folder.path(), with(leaflet, {"-o", "."}));
  EXPECT_EQ(ran.status, 3);
  EXPECT_THAT(ran.err, HasSubstr("job-inside.guide.pdf"));
  EXPECT_EQ(std::ranges::count(ran.err, '\n'), 1);
  EXPECT_THAT(folder.names(), ElementsAre("job-inside.guide.pdf"));
}

}  // namespace
}  // namespace frisket
