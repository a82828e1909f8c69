#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/resource.h>
#include <sys/stat.h>

#include <csignal>

#include "frisket/report.hpp"
#include "scratch_folder.hpp"

namespace frisket {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

std::string error_of(const std::filesystem::path& file, const std::string& text) {
  try {
    write_file(file, text);
  } catch (const Error& error) {
    return error.what();
  }
  return "";
}

TEST(WriteFile, WritesAndReplacesLeavingNothingElse) {
  const ScratchFolder folder;
  write_file(folder / "a.json", std::string("first"));
  write_file(folder / "a.json", std::string("second"));
  EXPECT_EQ(content_of(folder / "a.json"), "second");
  EXPECT_THAT(folder.names(), ElementsAre("a.json"));
}

TEST(WriteFile, ObeysTheUmaskAsAnyProgramDoes) {
  const ScratchFolder folder;
  const mode_t before = umask(027);
  write_file(folder / "a", std::string("x"));
  umask(before);
  struct stat facts = {};
  stat((folder / "a").c_str(), &facts);
  EXPECT_EQ(facts.st_mode & 0777, 0640u);
}

TEST(WriteFile, NamesFileAndReasonWhereItCannot) {
  const ScratchFolder folder;
  EXPECT_THAT(error_of(folder / "none/a.json", "x"), HasSubstr("none/a.json: its folder does not exist"));
  std::filesystem::create_directory(folder / "taken");
  EXPECT_THAT(error_of(folder / "taken", "x"), HasSubstr("a folder of that name is in the way"));
  EXPECT_THAT(error_of(folder / std::string(300, 'n'), "x"), HasSubstr("the name is too long"));
  EXPECT_THAT(folder.names(), ElementsAre("taken"));
}

TEST(WriteFile, LeavesTheOldFileWholeWhereTheNewOneDoesNotFit) {
  const ScratchFolder folder;
  write_file(folder / "a", std::string("old"));
  std::signal(SIGXFSZ, SIG_IGN);
  rlimit before = {};
  getrlimit(RLIMIT_FSIZE, &before);
  const rlimit small{1000, before.rlim_max};
  setrlimit(RLIMIT_FSIZE, &small);
  const std::string error = error_of(folder / "a", std::string(5000, 'x'));
  setrlimit(RLIMIT_FSIZE, &before);
  EXPECT_THAT(error, HasSubstr("larger than the system allows"));
  EXPECT_EQ(content_of(folder / "a"), "old");
  EXPECT_THAT(folder.names(), ElementsAre("a"));
}

}  // namespace
}  // namespace frisket
