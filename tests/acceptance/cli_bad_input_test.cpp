// The bad input that a print shop sees: each gives one clear line on stderr, the right exit status and
// nothing half-written.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "acceptance/program.hpp"

namespace frisket {
namespace {

using testing::AnyOf;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::UnorderedElementsAre;

/// "frisket: …", one line.
void expect_one_line(const Ran& ran) {
  EXPECT_TRUE(ran.err.starts_with("frisket: ")) << ran.err;
  EXPECT_EQ(std::ranges::count(ran.err, '\n'), 1) << ran.err;
  EXPECT_TRUE(ran.err.ends_with("\n"));
}

/// Inspects `file` beside a good page: the file fails with a line that names it and holds `words`, leaving
/// nothing; the good page is still inspected.
void expect_refused(const ScratchFolder& folder, const std::string& file, const std::string& words) {
  save_png(small_page(), folder / "good.png");
  const Ran ran =
      run_frisket(folder.path(), with_job({"inspect", file, "good.png"}, {"--dpi", "300", "-o", "out"}));
  EXPECT_EQ(ran.status, 3) << ran.err;
  expect_one_line(ran);
  EXPECT_THAT(ran.err, HasSubstr("frisket: " + file + ": "));
  EXPECT_THAT(ran.err, HasSubstr(words));
  std::vector<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(folder / "out"))
    names.push_back(entry.path().filename());
  EXPECT_THAT(names, UnorderedElementsAre("good.findings.json", "good.overlay.png", "summary.json"));
  EXPECT_EQ(validate_file("summary", folder / "out/summary.json"), 0);
}

std::string encoded(const std::string& format) {
  const vips::VImage page = small_page({intruder});
  void* bytes = nullptr;
  std::size_t size = 0;
  page.write_to_buffer(("." + format).c_str(), &bytes, &size);
  std::string content(static_cast<const char*>(bytes), size);
  g_free(bytes);
  return content;
}

TEST(BadInput, MissingFile) { expect_refused(ScratchFolder(), "nowhere.png", "no such file"); }

TEST(BadInput, EmptyFile) {
  const ScratchFolder folder;
  put(folder / "empty.png", "");
  expect_refused(folder, "empty.png", "empty");
}

class Truncated : public testing::TestWithParam<std::string> {};
TEST_P(Truncated, IsRefusedWhereverItEnds) {
  const std::string whole = encoded(GetParam());
  for (const double share : {0.1, 0.5, 0.95}) {
    const ScratchFolder folder;
    const std::string file = "cut." + GetParam();
    put(folder / file, whole.substr(0, static_cast<std::size_t>(share * static_cast<double>(whole.size()))));
    expect_refused(folder, file, "");
  }
}
INSTANTIATE_TEST_SUITE_P(Formats, Truncated, testing::Values("png", "jpg", "tif", "webp"));

TEST(BadInput, TextNamedPng) {
  const ScratchFolder folder;
  put(folder / "notes.png", "These are notes, not a picture.\n");
  expect_refused(folder, "notes.png", "");
}

TEST(BadInput, SvgOrScriptNamedTif) {
  const ScratchFolder folder;
  put(folder / "drawing.tif", "<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'/>");
  expect_refused(folder, "drawing.tif", "");
  const ScratchFolder other;
  put(other / "script.tif", "#!/bin/sh\ntouch ran\n");
  expect_refused(other, "script.tif", "");
  EXPECT_FALSE(std::filesystem::exists(other / "ran"));
}

TEST(BadInput, HeaderOfAHugePageWithoutData) {
  const ScratchFolder folder;
  // PNG signature and IHDR of 60,000 x 60,000 px, 8-bit RGB, with the CRC that zlib's crc32 gives.
  const std::string header("\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR\0\0\xea\x60\0\0\xea\x60\x08\x02\0\0\0", 29);
  put(folder / "huge.png", header + std::string("\x0f\xb0\xe2\x15", 4));
  expect_refused(folder, "huge.png", "");
}

TEST(BadInput, CommandsAndFlagsThatDoNotExist) {
  const ScratchFolder folder;
  for (const auto& [command, words] : {std::pair(std::vector<std::string>{"inspekt", "page.png", "-o", "out"},
                                                 "there is no command \"inspekt\"; expected inspect, plan"),
                                       std::pair(std::vector<std::string>{"plan", "--save", "3mm"},
                                                 "--save (frisket plan --help tells more)")}) {
    const Ran ran = run_frisket(folder.path(), command);
    EXPECT_EQ(ran.status, 2);
    expect_one_line(ran);
    EXPECT_THAT(ran.err, HasSubstr(words));
  }
}

TEST(BadInput, FolderWithoutPages) {
  const ScratchFolder folder;
  std::filesystem::create_directory(folder / "empty");
  put(folder / "empty/readme.txt", "no pages here");
  const Ran ran = run_frisket(folder.path(), with_job({"inspect", "empty"}));
  EXPECT_EQ(ran.status, 2);
  expect_one_line(ran);
  EXPECT_THAT(ran.err, HasSubstr("empty: no pages in this folder"));
  EXPECT_THAT(folder.names(), ElementsAre("empty"));
}

TEST(BadInput, PageOfOnePixelIsInspected) {
  const ScratchFolder folder;
  save_png(small_page().extract_area(0, 0, 1, 1), folder / "dot.png");
  const Ran ran = run_frisket(folder.path(), with_job({"inspect", "dot.png"}));
  EXPECT_EQ(ran.status, 1) << ran.err;
  EXPECT_THAT(ran.err, IsEmpty());
  EXPECT_EQ(validate_file("report", folder / "dot.findings.json"), 0);
  EXPECT_THAT(content_of(folder / "dot.findings.json"), HasSubstr("size-differs"));
}

TEST(BadInput, ResolutionThatNobodySays) {
  const ScratchFolder folder;
  put(folder / "plain.ppm", encoded("ppm"));
  const Ran ran = run_frisket(folder.path(), with_job({"inspect", "plain.ppm"}));
  EXPECT_EQ(ran.status, 3);
  expect_one_line(ran);
  EXPECT_THAT(ran.err, HasSubstr("--dpi"));
  EXPECT_THAT(folder.names(), ElementsAre("plain.ppm"));
}

TEST(BadInput, OutputFolderThatCannotBeWritten) {
  const ScratchFolder folder;
  save_png(small_page(), folder / "page.png");
  put(folder / "taken", "a file");
  for (const std::string out : {"taken", "taken/below", "/proc/frisket"}) {
    const Ran ran = run_frisket(folder.path(), with_job({"inspect", "page.png"}, {"-o", out}));
    EXPECT_EQ(ran.status, 2) << out;
    expect_one_line(ran);
    EXPECT_THAT(ran.err, HasSubstr(out + ": cannot write into this folder"));
  }
  EXPECT_THAT(folder.names(), ElementsAre("page.png", "taken"));
}

/// How to get a disk of a few pages: a tmpfs of our own in a mount namespace, as root or as a mapped user.
std::string small_disk_command() {
  for (const std::string command : {"unshare -m", "unshare -rm"})
    if (std::system((command + " mount -t tmpfs tmpfs /mnt 2>/dev/null").c_str()) == 0) return command;
  return "";
}

TEST(BadInput, FullDisk) {
  const ScratchFolder folder;
  save_png(small_page({intruder}), folder / "page.png");
  std::filesystem::create_directory(folder / "disk");
  const std::string unshare = small_disk_command();
  const std::string inspect =
      "\"$FRISKET\" inspect page.png --trim 60x40mm --bleed 3mm --safe 4mm -o disk; status=$?; ls -A disk; "
      "exit $status";
  // Where no file system may be mounted, a limit on file size stands in: the write fails just as far in.
  const std::string line = unshare.empty()
                               ? "ulimit -f 2; " + inspect
                               : unshare + " sh -c 'mount -t tmpfs -o size=8k tmpfs disk; " + inspect + "'";
  const Ran ran = run_shell(folder.path(), line);
  EXPECT_EQ(ran.status, 3) << ran.out << ran.err;
  expect_one_line(ran);
  EXPECT_THAT(ran.err, AnyOf(HasSubstr("the disk is full"), HasSubstr("larger than the system allows")));
  EXPECT_THAT(ran.out, IsEmpty()) << "neither results nor leftovers";
}

TEST(BadInput, FileSizeLimit) {
  const ScratchFolder folder;
  save_png(small_page({intruder}), folder / "page.png");
  const Ran ran =
      run_shell(folder.path(), "ulimit -f 2; \"$FRISKET\" inspect page.png --trim 60x40mm -o out");
  EXPECT_EQ(ran.status, 3);
  expect_one_line(ran);
  EXPECT_TRUE(std::filesystem::is_empty(folder / "out"));
}

TEST(BadInput, StandardOutputThatIsFull) {
  const ScratchFolder folder;
  save_png(small_page(), folder / "page.png");
  const Ran ran = run_shell(folder.path(), "\"$FRISKET\" inspect page.png --trim 60x40mm > /dev/full");
  EXPECT_EQ(ran.status, 3);
  expect_one_line(ran);
}

TEST(BadInput, AFailedPageLeavesNoResultsOfAnEarlierRun) {
  const ScratchFolder folder;
  save_png(small_page(), folder / "page.png");
  EXPECT_EQ(run_frisket(folder.path(), with_job({"inspect", "page.png"})).status, 0);
  put(folder / "page.png", "");
  EXPECT_EQ(run_frisket(folder.path(), with_job({"inspect", "page.png"})).status, 3);
  EXPECT_THAT(folder.names(), ElementsAre("page.png"));
}

}  // namespace
}  // namespace frisket
