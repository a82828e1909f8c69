// Runs over many pages: folders and their tickets, jobs, resuming, parts, one run at a time.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/file.h>
#include <sys/stat.h>

#include <fcntl.h>
#include <unistd.h>

#include <fstream>
#include <functional>
#include <map>
#include <nlohmann/json.hpp>
#include <sstream>

#include "acceptance/program.hpp"

namespace frisket {
namespace {

namespace fs = std::filesystem;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using Json = nlohmann::json;

/// The pages of these tests are of 100 dpi: quick to inspect.
void save_small(const fs::path& file, const std::vector<Rect>& boxes = {}) {
  fs::create_directories(file.parent_path());
  vips::VImage page =
      small_page(boxes).resize(1 / 3.0, vips::VImage::option()->set("kernel", VIPS_KERNEL_NEAREST));
  save_png(page.copy(vips::VImage::option()->set("xres", 100 / 25.4)->set("yres", 100 / 25.4)), file);
}

const std::string small_ticket = R"({"frisket_ticket": 1, "name": "Tidewater cards", "trim": [60, 40],
  "bleed": 3, "safe": 4, "dpi": 100, "resolution": {"wanted": 100, "least": 100}})";

/// `count` pages, every third with a fault, and one file that is none.
void fill(const fs::path& folder, int count) {
  for (int i = 1; i <= count; ++i)
    save_small(folder / ("page" + std::to_string(i) + ".png"),
               i % 3 == 0 ? std::vector{intruder} : std::vector<Rect>{});
  put(folder / "broken.png", "no picture");
  put(folder / "ticket.json", small_ticket);
}

/// Every file below `folder` with its content.
std::map<std::string, std::string> tree_of(const fs::path& folder) {
  std::map<std::string, std::string> files;
  for (const auto& entry : fs::recursive_directory_iterator(folder))
    if (entry.is_regular_file()) files[entry.path().lexically_relative(folder)] = content_of(entry.path());
  return files;
}

Json summary_in(const fs::path& folder) {
  EXPECT_EQ(validate_file("summary", folder / "summary.json"), 0);
  return Json::parse(content_of(folder / "summary.json"));
}

std::vector<std::string> files_in(const Json& summary) {
  std::vector<std::string> files;
  for (const Json& page : summary["pages"]) files.push_back(page["file"]);
  return files;
}

TEST(Folders, AreEnteredOnRequestAndMirrored) {
  const ScratchFolder folder;
  for (const std::string page : {"page10.png", "page2.png", "cards/b/page1.png", "cards/a.png", ".git/x.png"})
    save_small(folder / ("job/" + page));
  put(folder / "job/ticket.json", small_ticket);
  put(folder / "job/cards/.hidden.png", "");
  put(folder / "job/cards/brief.txt", "");
  const Ran flat = run_frisket(folder.path(), {"inspect", "job", "-o", "flat"});
  EXPECT_EQ(flat.status, 0) << flat.out << flat.err;
  EXPECT_THAT(files_in(summary_in(folder / "flat")), ElementsAre("page2.png", "page10.png"));
  for (int run = 0; run < 2; ++run) {  // what the first leaves in the tree is nothing to the second
    const Ran ran = run_frisket(folder.path(), {"inspect", "job", "--recursive", "-o", "job/out"});
    EXPECT_EQ(ran.status, 0) << ran.out << ran.err;
    EXPECT_THAT(ran.out, HasSubstr("Left alone: 2 hidden, 1 of another kind."));
    const Json summary = summary_in(folder / "job/out");
    EXPECT_THAT(files_in(summary),
                ElementsAre("cards/a.png", "cards/b/page1.png", "page2.png", "page10.png"));
    EXPECT_EQ(summary["left_alone"], Json::parse(R"({"hidden": 2, "unknown": 1, "not_asked": 0})"));
    EXPECT_EQ(summary["pages"][1]["findings_file"], "cards/b/page1.findings.json");
    EXPECT_TRUE(fs::exists(folder / "job/out/cards/b/page1.overlay.png"));
  }
}

TEST(Folders, GiveOnlyThePagesThatMatch) {
  const ScratchFolder folder;
  for (const std::string page : {"a.png", "b.PNG", "cards/c.png", "d.jpg"})
    save_small(folder / ("job/" + page));
  put(folder / "job/ticket.json", small_ticket);
  const auto only = [&](std::vector<std::string> wildcards) {
    std::vector<std::string> command{"inspect", "job", "--recursive", "-o", "out"};
    for (const std::string& wildcard : wildcards) command.insert(command.end(), {"--only", wildcard});
    EXPECT_NE(run_frisket(folder.path(), command).status, 2);
    return files_in(summary_in(folder / "out"));
  };
  EXPECT_THAT(only({"*.png"}), ElementsAre("a.png", "b.PNG", "cards/c.png"));
  EXPECT_THAT(only({"cards/*", "d.*"}), ElementsAre("cards/c.png", "d.jpg"));
  const Ran none = run_frisket(folder.path(), {"inspect", "job", "--only", "*.tif"});
  EXPECT_EQ(none.status, 2);
  EXPECT_THAT(none.err, HasSubstr("none of its 3 pages matches --only"));
}

TEST(Folders, TakeTheNearestTicketWithinTheFolderGiven) {
  const ScratchFolder folder;
  const auto named = [](const std::string& name) {
    return R"({"frisket_ticket": 1, "trim": [60, 40], "bleed": 3, "name": ")" + name + "\"}";
  };
  put(folder / "ticket.json", named("above"));  // above the folder given: of no account
  for (const std::string page : {"in/none.png", "in/a/1.png", "in/a/b/2.png", "in/a/c/3.png", "in/d/4.png"})
    save_small(folder / page);
  put(folder / "in/a/ticket.json", named("a"));
  put(folder / "in/a/c/ticket.json", named("c"));
  put(folder / "in/d/ticket.json", R"({"frisket_ticket": 1, "trim": [60, 40], "bled": 3})");
  const Ran ran = run_frisket(folder.path(), {"inspect", "in/", "--recursive", "-o", "out"});
  EXPECT_EQ(ran.status, 3);
  const Json pages = summary_in(folder / "out")["pages"];
  ASSERT_EQ(pages.size(), 5u);
  EXPECT_EQ(pages[0]["job"], "a");
  EXPECT_EQ(pages[1]["job"], "a");
  EXPECT_EQ(pages[2]["job"], "c");
  EXPECT_THAT(pages[3]["error"].get<std::string>(), HasSubstr("bled"));
  EXPECT_THAT(pages[4]["error"].get<std::string>(), HasSubstr("no ticket.json"));
  EXPECT_EQ(std::ranges::count(ran.err, '\n'), 2) << ran.err;
  run_frisket(folder.path(), {"inspect", "in", "--recursive", "-o", "out", "--ticket", "ticket.json"});
  const Json of_one_job = summary_in(folder / "out");
  for (const Json& page : of_one_job["pages"]) EXPECT_EQ(page["job"], "above");
}

TEST(Runs, GiveTheSameBytesWhateverTheNumberOfJobs) {
  const ScratchFolder folder;
  fill(folder / "job", 9);
  const auto run = [&](const std::string& jobs, std::vector<std::string> more) {
    std::vector<std::string> command{"inspect", "job", "--csv", "--jobs", jobs, "-o", "out" + jobs};
    command.insert(command.end(), more.begin(), more.end());
    return run_frisket(folder.path(), command);
  };
  const Ran one = run("1", {}), five = run("5", {"--memory", "1GB"});
  EXPECT_EQ(one.status, 3);
  EXPECT_EQ(five.status, 3);
  EXPECT_EQ(one.out, five.out);
  EXPECT_EQ(one.err, five.err);
  EXPECT_THAT(one.out, HasSubstr("10 pages, 1 not inspected, 3 to mend, 6 with nothing to mend."));
  EXPECT_EQ(tree_of(folder / "out1"), tree_of(folder / "out5"));
}

TEST(Runs, InspectAPageThatIsLargerThanTheMemoryAlone) {
  const ScratchFolder folder;
  for (const std::string page : {"a.png", "b.png", "c.png"}) save_png(small_page().resize(4), folder / page);
  put(folder / "ticket.json", small_ticket);
  const Ran ran =
      run_frisket(folder.path(), {"inspect", ".", "--memory", "64MB", "--jobs", "4", "--dpi", "1200"});
  EXPECT_EQ(ran.status, 0) << ran.out << ran.err;
  EXPECT_EQ(run_frisket(folder.path(), {"inspect", ".", "--memory", "2 cows"}).status, 2);
}

TEST(Runs, GoOnWhereADecoderCrashes) {
  const ScratchFolder folder;
  for (const std::string page : {"a.png", "b.png", "c.png"}) save_png(small_page().resize(4), folder / page);
  put(folder / "ticket.json", small_ticket);
  // A child that is hit by a signal stands for one that a damaged file brought down. It is hit while it holds
  // a page: before that another child only looks at the files' headers.
  const Ran ran = run_shell(folder.path(),
                            "\"$FRISKET\" inspect . --jobs 1 --dpi 1200 -o out & run=$!; size=0; "
                            "while kill -0 $run && [ \"${size:-0}\" -lt 60000 ]; do read -r child rest < "
                            "/proc/$run/task/$run/children; "
                            "size=$(awk '/VmRSS/ {print $2}' /proc/${child:-none}/status 2>/dev/null); done; "
                            "kill -ILL $child; wait $run");
  EXPECT_EQ(ran.status, 3) << ran.err;
  EXPECT_THAT(ran.err, HasSubstr("crashed (Illegal instruction)"));
  const Json summary = summary_in(folder / "out");
  EXPECT_EQ(summary["pages_total"], 3);
  EXPECT_EQ(summary["pages_inspected"], 2);
}

/// When each findings file was last written, or rather replaced: its inode.
std::map<std::string, ino_t> inodes_in(const fs::path& folder) {
  std::map<std::string, ino_t> inodes;
  for (const auto& entry : fs::directory_iterator(folder)) {
    struct stat status {};
    if (entry.path().string().ends_with(".findings.json") && stat(entry.path().c_str(), &status) == 0)
      inodes[entry.path().filename()] = status.st_ino;
  }
  return inodes;
}

/// The findings files that `run` wrote anew. Old ones are held open, so that no inode is used twice.
std::vector<std::string> written_by(const fs::path& folder, const std::function<void()>& run) {
  std::vector<std::ifstream> held;
  const auto before = inodes_in(folder);
  for (const auto& [name, inode] : before) held.emplace_back(folder / name);
  run();
  std::vector<std::string> written;
  for (const auto& [name, inode] : inodes_in(folder))
    if (!before.contains(name) || before.at(name) != inode) written.push_back(name);
  return written;
}

TEST(Resuming, InspectsOnlyWhatHasChanged) {
  const ScratchFolder folder;
  for (const std::string page : {"a.png", "b.png", "c.png"}) save_small(folder / ("job/" + page), {intruder});
  put(folder / "job/ticket.json", small_ticket);
  std::vector<std::string> command{"inspect", "job", "-o", "out"};
  const Ran first = run_frisket(folder.path(), command);
  const auto written = [&] {
    return written_by(folder / "out", [&] { EXPECT_EQ(run_frisket(folder.path(), command).status, 1); });
  };
  const Ran second = run_frisket(folder.path(), command);
  EXPECT_EQ(second.out, first.out) << "a page that was not inspected again is told all the same";
  EXPECT_THAT(written(), IsEmpty());
  fs::last_write_time(folder / "job/a.png", fs::file_time_type::clock::now());
  EXPECT_THAT(written(), IsEmpty()) << "a date is no content";
  save_small(folder / "job/b.png");
  EXPECT_THAT(written(), ElementsAre("b.findings.json"));
  fs::remove(folder / "out/c.overlay.png");
  EXPECT_THAT(written(), ElementsAre("c.findings.json"));
  put(folder / "out/a.findings.json", content_of(folder / "out/a.findings.json").substr(0, 500));
  EXPECT_THAT(written(), ElementsAre("a.findings.json"));
  put(folder / "job/ticket.json", "// a remark changes nothing\n" + small_ticket);
  EXPECT_THAT(written(), IsEmpty());
  command.insert(command.end(), {"--safe", "4.1mm"});
  EXPECT_EQ(written().size(), 3u);
  EXPECT_THAT(written(), IsEmpty());
  command.push_back("--again");
  EXPECT_EQ(written().size(), 3u);
}

TEST(Resuming, SweepsUpAfterAKilledRun) {
  const ScratchFolder folder;
  fill(folder / "job", 1);
  fs::create_directory(folder / "out");
  put(folder / "out/.frisket-4711-0", "half a picture");
  put(folder / "out/.frisket.lock", "");
  put(folder / "out/.mine", "");
  EXPECT_EQ(run_frisket(folder.path(), {"inspect", "job", "-o", "out"}).status, 3);
  EXPECT_FALSE(fs::exists(folder / "out/.frisket-4711-0"));
  EXPECT_FALSE(fs::exists(folder / "out/.frisket.lock"));
  EXPECT_TRUE(fs::exists(folder / "out/.mine"));
}

TEST(Locks, KeepASecondRunOutOfTheFolder) {
  const ScratchFolder folder;
  fill(folder / "job", 1);
  fs::create_directory(folder / "out");
  const int held = open((folder / "out/.frisket.lock").c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0600);
  ASSERT_EQ(flock(held, LOCK_EX), 0);
  const Ran second = run_frisket(folder.path(), {"inspect", "job", "-o", "out"});
  EXPECT_EQ(second.status, 2);
  EXPECT_THAT(second.err, HasSubstr("another run of frisket is writing into this folder"));
  EXPECT_THAT((folder / "out").string() + " " + std::to_string(tree_of(folder / "out").size()),
              testing::EndsWith(" 1"));
  close(held);
  EXPECT_EQ(run_frisket(folder.path(), {"inspect", "job", "-o", "out"}).status, 3);
}

TEST(Shards, GatheredAreWhatOneRunWrites) {
  const ScratchFolder folder;
  fill(folder / "job", 10);
  put(folder / "job/notes.txt", "");
  put(folder / "job/.hidden", "");
  const Ran whole = run_frisket(folder.path(), {"inspect", "job", "--csv", "-o", "one"});
  for (const std::string part : {"1/3", "2/3", "3/3"}) {
    const Ran ran = run_frisket(folder.path(), {"inspect", "job", "--shard", part, "-o", "parts"});
    EXPECT_THAT(ran.status, testing::AnyOf(0, 1, 3)) << ran.err;
  }
  EXPECT_EQ(validate_file("summary", folder / "parts/summary-2-of-3.json"), 0);
  const Ran gathered = run_frisket(folder.path(), {"gather", "parts", "--csv"});
  EXPECT_EQ(gathered.status, whole.status) << gathered.err;
  EXPECT_EQ(gathered.err, whole.err);
  EXPECT_TRUE(whole.out.ends_with(gathered.out)) << gathered.out;
  auto parts = tree_of(folder / "parts");
  for (const std::string part : {"1", "2", "3"}) EXPECT_EQ(parts.erase("summary-" + part + "-of-3.json"), 1u);
  EXPECT_EQ(parts, tree_of(folder / "one"));
}

TEST(Shards, InFoldersOfTheirOwnAreGatheredAsWell) {
  const ScratchFolder folder;
  fill(folder / "job", 4);
  run_frisket(folder.path(), {"inspect", "job", "-o", "one"});
  for (const std::string part : {"1", "2"})
    run_frisket(folder.path(), {"inspect", "job", "--shard", part + "/2", "-o", "out/" + part});
  EXPECT_EQ(run_frisket(folder.path(), {"gather", "out/2", "out/1", "-o", "out"}).status, 3);
  Json summary = summary_in(folder / "out");
  for (Json& page : summary["pages"])
    if (!page["findings_file"].is_null()) {
      EXPECT_TRUE(fs::exists(folder / "out" / page["findings_file"].get<std::string>()));
      for (const char* key : {"findings_file", "overlay_file"})
        page[key] = page[key].get<std::string>().substr(2);
    }
  EXPECT_EQ(summary, summary_in(folder / "one"));
  const Ran missing = run_frisket(folder.path(), {"gather", "out/1", "-o", "elsewhere"});
  EXPECT_EQ(missing.status, 2);
  EXPECT_THAT(missing.err, HasSubstr("is missing; run it with --shard 2/2"));
  EXPECT_FALSE(fs::exists(folder / "elsewhere"));
}

TEST(Gather, SetsWholeRunsOneAfterTheOther) {
  const ScratchFolder folder;
  for (const std::string job : {"north", "south"}) {
    fill(folder / job, 2);
    run_frisket(folder.path(), {"inspect", job, "-o", "out/" + job});
  }
  EXPECT_EQ(run_frisket(folder.path(), {"gather", "out/north", "out/south", "-o", "out"}).status, 3);
  const Json pages = summary_in(folder / "out")["pages"];
  ASSERT_EQ(pages.size(), 6u);
  EXPECT_EQ(pages[1]["findings_file"], "north/page1.findings.json");
  EXPECT_EQ(pages[4]["findings_file"], "south/page1.findings.json");
  EXPECT_EQ(run_frisket(folder.path(), {"gather", "north"}).status, 2);
}

TEST(JsonLines, AreOneRecordAPageInOrder) {
  const ScratchFolder folder;
  fill(folder / "job", 3);
  const Ran ran = run_frisket(folder.path(), {"inspect", "job", "--json-lines", "-o", "out"});
  EXPECT_EQ(ran.status, 3);
  std::istringstream lines(ran.out);
  std::vector<std::string> files;
  for (std::string line; std::getline(lines, line);) files.push_back(Json::parse(line)["file"]);
  EXPECT_THAT(files, ElementsAre("broken.png", "page1.png", "page2.png", "page3.png"));
}

/// What a customer may call a file or write into a ticket.
const std::string hostile =
    "=cmd|'x'!A1,\"<script>alert(1)</script>\x1b]0;t\x07\x1b[2J\xC2\x9B"
    "31m\xE2\x80\xAE\n";

TEST(HostileTexts, AreNowhereRaw) {
  const ScratchFolder folder;
  std::string name = hostile;
  std::erase(name, '/');  // the one character that a name cannot hold
  save_small(folder / ("job/" + name + ".png"), {intruder});
  put(folder / ("job/" + name + "2.png"), "broken");
  Json ticket = Json::parse(small_ticket);
  ticket["name"] = hostile;
  put(folder / "job/ticket.json", ticket.dump());
  for (const bool lines : {false, true}) {
    std::vector<std::string> command{"inspect", "job", "--csv", "-o", "out"};
    if (lines) command.push_back("--json-lines");
    const Ran ran = run_frisket(folder.path(), command);
    EXPECT_EQ(ran.status, 3) << ran.err;
    for (const std::string& text : {ran.out, ran.err})
      for (const std::string raw : {"\x1b", "\x07", "\xC2\x9B", "\xE2\x80\xAE"})
        EXPECT_THAT(text, Not(HasSubstr(raw)));
    EXPECT_EQ(std::ranges::count(ran.err, '\n'), 1) << ran.err;
  }
  const Json page = summary_in(folder / "out")["pages"][0];
  EXPECT_EQ(page["file"], name + ".png");
  EXPECT_EQ(page["job"], hostile);
  const std::string table = content_of(folder / "out/findings.csv");
  EXPECT_THAT(table, HasSubstr("\r\n\"'=cmd|"));
  EXPECT_THAT(table, Not(HasSubstr("\r\n\"=cmd|")));
  EXPECT_THAT(table, HasSubstr("!A1,\"\"<script>"));
}

}  // namespace
}  // namespace frisket
