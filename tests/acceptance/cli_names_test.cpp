// File names: which files of a folder are pages, what their results are called, and names nobody should use.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "acceptance/program.hpp"

namespace frisket {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;
using Json = nlohmann::json;

void expect_clash(const ScratchFolder& folder, const std::vector<std::string>& pages) {
  std::vector<std::string> command{"inspect"};
  command.insert(command.end(), pages.begin(), pages.end());
  const Ran ran = run_frisket(folder.path(), with_job(command, {"-o", "out"}));
  EXPECT_EQ(ran.status, 2);
  EXPECT_EQ(std::ranges::count(ran.err, '\n'), 1) << ran.err;
  EXPECT_FALSE(std::filesystem::exists(folder / "out")) << "something was written";
}

TEST(Names, TwoPagesOfTheSameNameAreRefusedBeforeAnythingIsWritten) {
  const ScratchFolder folder;
  for (const std::string name : {"a", "b"}) {
    std::filesystem::create_directory(folder / name);
    save_png(small_page(), folder / (name + "/x.png"));
  }
  small_page().write_to_file((folder / "a/x.tif").c_str());
  expect_clash(folder, {"a/x.png", "a/x.tif"});
  expect_clash(folder, {"a/x.png", "b/x.png"});
  expect_clash(folder, {"a"});
  expect_clash(folder, {"a/x.png", "a/x.png"});
}

TEST(Names, ResultsNeverOverwriteAPage) {
  const ScratchFolder folder;
  save_png(small_page(), folder / "a.png");
  save_png(small_page(), folder / "a.overlay.png");
  const std::string before = content_of(folder / "a.overlay.png");
  const Ran ran = run_frisket(folder.path(), with_job({"inspect", "a.png", "a.overlay.png"}));
  EXPECT_EQ(ran.status, 2);
  EXPECT_THAT(ran.err, HasSubstr("would be overwritten"));
  EXPECT_EQ(content_of(folder / "a.overlay.png"), before);
}

TEST(Names, APageIsInspectedWhateverItIsCalled) {
  const std::vector<std::string> names{
      "two words",      "it's \"quoted\"", "<b>&amp;", "new\nline", "escape\x1b[31m",
      "Grüße, мир, 紙", "$(touch ran)",    "-dash",    "caf\xE9",   "a[1]"};
  for (const std::string& name : names) {
    SCOPED_TRACE(name);
    const ScratchFolder folder;
    save_png(small_page({intruder}), folder / (name + ".png"));
    const Ran ran = run_frisket(folder.path(), with_job({"inspect"}, {"--", name + ".png"}));
    EXPECT_EQ(ran.status, 1) << ran.err;
    EXPECT_THAT(ran.err, testing::IsEmpty());
    EXPECT_THAT(folder.names(),
                testing::UnorderedElementsAre(name + ".png", name + ".findings.json", name + ".overlay.png"));
    EXPECT_THAT(ran.out, Not(HasSubstr("\x1b")));
    EXPECT_THAT(ran.out, Not(HasSubstr("new\nline")));
    const Json report = Json::parse(content_of(folder / (name + ".findings.json")));
    const std::string readable =
        name == "caf\xE9" ? "caf\xEF\xBF\xBD" : name;  // U+FFFD for what is not UTF-8
    EXPECT_EQ(report["page"]["file"], readable + ".png");
  }
}

TEST(Names, AnErrorStaysOnOneLineWhateverTheFileIsCalled) {
  const ScratchFolder folder;
  put(folder / "new\nline.png", "");
  const Ran ran = run_frisket(folder.path(), with_job({"inspect", "new\nline.png"}));
  EXPECT_EQ(ran.status, 3);
  EXPECT_EQ(std::ranges::count(ran.err, '\n'), 1);
  EXPECT_THAT(ran.err, HasSubstr("new\\nline.png"));
}

TEST(Folders, HoldPagesInNaturalOrderWithoutHiddenOrOtherFiles) {
  const ScratchFolder folder;
  std::filesystem::create_directories(folder / "job/sub.png");
  for (const std::string name : {"page10.PNG", "page2.png", "page1.png", ".hidden.png", "notes.txt"})
    save_png(small_page(), folder / ("job/" + name));
  const Ran ran = run_frisket(folder.path(), with_job({"inspect", "job"}, {"-o", "out"}));
  EXPECT_EQ(ran.status, 0) << ran.err;
  const Json pages = Json::parse(content_of(folder / "out/summary.json"))["pages"];
  std::vector<std::string> files;
  for (const Json& page : pages) files.push_back(page["file"]);
  EXPECT_THAT(files, ElementsAre("page1.png", "page2.png", "page10.PNG"));
}

TEST(Folders, DoNotTakeOverlaysOfAnEarlierRunForPages) {
  const ScratchFolder folder;
  save_png(small_page(), folder / "a.png");
  save_png(small_page(), folder / "map.overlay.png");  // has no findings beside it: somebody's own page
  for (int run = 0; run < 2; ++run)
    EXPECT_EQ(run_frisket(folder.path(), with_job({"inspect", "."})).status, 0);
  EXPECT_THAT(folder.names(), testing::UnorderedElementsAre("a.png", "a.findings.json", "a.overlay.png",
                                                            "map.overlay.png", "map.overlay.findings.json",
                                                            "map.overlay.overlay.png", "summary.json"));
}

TEST(Names, PagesOfOneFileAreNumbered) {
  const ScratchFolder folder;
  const vips::VImage page = small_page(), second = small_page({intruder});
  vips::VImage both = page.join(second, VIPS_DIRECTION_VERTICAL).copy_memory();
  both.set("page-height", page.height());
  both.write_to_file((folder / "both.tif").c_str());
  const Ran ran = run_frisket(folder.path(), with_job({"inspect", "both.tif"}));
  EXPECT_EQ(ran.status, 1) << ran.err;
  EXPECT_THAT(folder.names(),
              testing::UnorderedElementsAre("both.tif", "both-p1.findings.json", "both-p1.overlay.png",
                                            "both-p2.findings.json", "both-p2.overlay.png", "summary.json"));
  const Json report = Json::parse(content_of(folder / "both-p2.findings.json"));
  EXPECT_EQ(report["page"]["number"], 2);
  EXPECT_EQ(report["verdict"], "fix");
  EXPECT_EQ(Json::parse(content_of(folder / "both-p1.findings.json"))["findings"].size(), 0u);
  save_png(page, folder / "both-p2.png");
  expect_clash(folder, {"both.tif", "both-p2.png"});
}

}  // namespace
}  // namespace frisket
