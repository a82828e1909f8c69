// The reports to read that runs leave: of a page, of a job, of all; gathered from parts and from runs.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "acceptance/program.hpp"

namespace frisket {
namespace {

namespace fs = std::filesystem;
using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

/// A job of a page with a fault and one without.
void make_job(const fs::path& folder, const std::string& name) {
  fs::create_directories(folder);
  put(folder / "ticket.json",
      R"({"frisket_ticket": 1, "trim": [60, 40], "bleed": 3, "safe": 4, "dpi": 300, "name": ")" + name +
          "\"}");
  save_png(small_page(), folder / "clean.png");
  save_png(small_page({intruder}), folder / "faulty.png");
}

/// All about pages of a report that people see.
testing::Matcher<std::string> tells_of(const std::string& page) {
  return HasSubstr("<span class=\"name\">" + page + "</span>");
}

TEST(Reports, AreOneForEachJobAndOneForAll) {
  const ScratchFolder folder;
  make_job(folder / "in/north", "North");
  make_job(folder / "in/south", "South");
  put(folder / "in/south/broken.png", "no picture");
  const Ran ran = run_frisket(folder.path(), {"inspect", "in", "--recursive", "--report", "-o", "out"});
  EXPECT_EQ(ran.status, 3) << ran.err;
  const std::string all = content_of(folder / "out/report.html");
  EXPECT_THAT(all,
              AllOf(tells_of("north/clean.png"), tells_of("south/faulty.png"), tells_of("south/broken.png")));
  const std::string north = content_of(folder / "out/north/job.html"),
                    south = content_of(folder / "out/south/job.html");
  EXPECT_THAT(north,
              AllOf(HasSubstr("<h1>North</h1>"), tells_of("north/faulty.png"), Not(HasSubstr("south/"))));
  EXPECT_THAT(south,
              AllOf(HasSubstr("<h1>South</h1>"), tells_of("south/broken.png"), Not(HasSubstr("north/"))));
  EXPECT_TRUE(fs::exists(folder / "out/north/clean.report.html"));
  run_frisket(folder.path(), {"inspect", "in/north", "--report", "-o", "one"});
  EXPECT_FALSE(fs::exists(folder / "one/job.html")) << "the report of the run is the job's";
}

TEST(Reports, OfPartsAreGatheredToThoseOfOneRun) {
  const ScratchFolder folder;
  make_job(folder / "in/north", "North");
  make_job(folder / "in/south", "South");
  run_frisket(folder.path(), {"inspect", "in", "--recursive", "--report", "-o", "one"});
  for (const std::string part : {"1/2", "2/2"})
    run_frisket(folder.path(), {"inspect", "in", "--recursive", "--report", "--shard", part, "-o", "parts"});
  EXPECT_FALSE(fs::exists(folder / "parts/report.html"));
  EXPECT_EQ(run_frisket(folder.path(), {"gather", "parts", "--report"}).status, 1);
  for (const std::string report :
       {"report.html", "north/job.html", "south/job.html", "south/clean.report.html"})
    EXPECT_EQ(content_of(folder / ("parts/" + report)), content_of(folder / ("one/" + report))) << report;
}

TEST(Reports, OfWholeRunsAreSetOneAfterTheOther) {
  const ScratchFolder folder;
  for (const std::string job : {"north", "south"}) {
    make_job(folder / job, job);
    run_frisket(folder.path(), {"inspect", job, "--report", "-o", "out/" + job});
  }
  const Ran ran = run_frisket(folder.path(), {"gather", "out/north", "out/south", "--report", "-o", "out"});
  EXPECT_EQ(ran.status, 1) << ran.err;
  EXPECT_THAT(content_of(folder / "out/report.html"), AllOf(HasSubstr("<span class=\"of\">north</span>"),
                                                            HasSubstr("<span class=\"of\">south</span>")));
}

TEST(Reports, ThatWereNotWrittenCannotBeGathered) {
  const ScratchFolder folder;
  make_job(folder / "in", "North");
  run_frisket(folder.path(), {"inspect", "in", "-o", "out"});
  const Ran ran = run_frisket(folder.path(), {"gather", "out", "--report"});
  EXPECT_EQ(ran.status, 3);
  EXPECT_THAT(ran.err, HasSubstr("inspect the pages with --report first"));
  EXPECT_FALSE(fs::exists(folder / "out/report.html"));
}

}  // namespace
}  // namespace frisket
