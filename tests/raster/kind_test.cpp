#include <gmock/gmock.h>
#include <sys/stat.h>

#include "page_files.hpp"

namespace frisket {
namespace {

using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

std::string refusal(const std::filesystem::path& file) {
  EXPECT_NE(error_of([&] { count_pages(file); }), "") << file;
  return error_of([&] { opened(file); });
}

TEST(Kind, TextNamedPngIsNotOpened) {
  const ScratchFolder folder;
  EXPECT_THAT(refusal(written(folder / "page.png", "Dear printer, the page is on its way.\n")),
              AllOf(HasSubstr("looks like text"), HasSubstr("TIFF, PNG, JPEG, WebP, PPM or PDF")));
}

TEST(Kind, DrawingAndScriptNamedTifAreNotOpened) {
  const ScratchFolder folder;
  EXPECT_THAT(
      refusal(written(folder / "a.tif", "<?xml version='1.0'?>\n<svg xmlns='http://www.w3.org/2000/svg'/>")),
      HasSubstr("an SVG drawing"));
  EXPECT_THAT(refusal(written(folder / "b.tif", "#!/bin/sh\ntouch /tmp/opened\n")), HasSubstr("a script"));
  EXPECT_THAT(refusal(written(folder / "c.tif", "%!PS-Adobe-3.0\n")), HasSubstr("PostScript"));
  EXPECT_THAT(refusal(written(folder / "d.tif", "GIF89a")), HasSubstr("a GIF"));
  EXPECT_THAT(refusal(written(folder / "e.tif", std::string("\0\1\2\3\4\5\6\7", 8))),
              HasSubstr("does not know"));
}

TEST(Kind, MissingEmptyFolderPipeAndDeviceAreErrorsAtOnce) {
  const ScratchFolder folder;
  EXPECT_THAT(refusal(folder / "none.png"), HasSubstr("no such file"));
  EXPECT_THAT(refusal(written(folder / "empty.png", "")), HasSubstr("empty"));
  std::filesystem::create_directory(folder / "inside.png");
  EXPECT_THAT(refusal(folder / "inside.png"), HasSubstr("folder"));
  ASSERT_EQ(::mkfifo((folder / "pipe.png").c_str(), 0600), 0);
  EXPECT_THAT(refusal(folder / "pipe.png"), HasSubstr("pipe or a device"));
  EXPECT_THAT(refusal("/dev/zero"), HasSubstr("pipe or a device"));
}

TEST(Kind, LinkIsFollowed) {
  const ScratchFolder folder;
  saved(sample_picture(), folder / "page.png");
  std::filesystem::create_symlink(folder / "page.png", folder / "link.png");
  EXPECT_EQ(opened(folder / "link.png").width, 61);
}

TEST(Kind, MisleadingExtensionIsANote) {
  const ScratchFolder folder;
  saved(sample_picture(), folder / "page.jpg");
  std::filesystem::rename(folder / "page.jpg", folder / "page.PNG");
  const Raster raster = opened(folder / "page.PNG");
  EXPECT_EQ(raster.format, "JPEG");
  EXPECT_THAT(raster.notes, ElementsAre(HasSubstr("the name ends in .png, but the file is a JPEG")));
}

TEST(Kind, OtherExtensionsAreNone) {
  const ScratchFolder folder;
  saved(sample_picture(), folder / "page.jpg");
  for (const char* name : {"page.v2", "page", "page.jpeg"}) {
    std::filesystem::copy_file(folder / "page.jpg", folder / name,
                               std::filesystem::copy_options::overwrite_existing);
    EXPECT_THAT(opened(folder / name).notes, IsEmpty()) << name;
  }
}

TEST(Kind, OddFileNamesOpen) {
  const ScratchFolder folder;
  saved(sample_picture(), folder / "page.tif");
  for (const char* name :
       {"a b.tif", "q\"uo'te.tif", "<x>&.tif", "new\nline.tif", "Köln.tif", "x.tif[page=3]", "\xff.tif"}) {
    std::filesystem::copy_file(folder / "page.tif", folder / name);
    EXPECT_EQ(opened(folder / name).width, 61) << name;
  }
}

}  // namespace
}  // namespace frisket
