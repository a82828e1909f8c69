#include <gmock/gmock.h>

#include <map>

#include "page_files.hpp"

namespace frisket {
namespace {

/// What is said of each file in fixtures/bad, in part.
const std::map<std::string, std::string> sayings{
    {"bytes-missing.webp", "4 bytes are missing"},
    {"drawing.tif", "looks like an SVG drawing"},
    {"empty.png", "the file is empty"},
    {"half-its-data.png", "the PNG is damaged"},
    {"huge-header.png", "60000 x 60000 px"},
    {"huge-header.ppm", "60000 x 60000 px"},
    {"no-end-chunk.png", "it has no end chunk"},
    {"no-end-marker.jpg", "it has no end-of-image marker"},
    {"no-end-marker.pdf", "it has no end-of-file marker"},
    {"pages-in-a-ring.tif", "point back at each other"},
    {"rows-missing.ppm", "rows are missing"},
    {"script.tif", "looks like a script"},
    {"strip-missing.tif", "strip 1 of 1 lies beyond the end"},
    {"text.png", "looks like text"},
};

TEST(BadFiles, EachIsRefusedForItsOwnReason) {
  std::size_t files = 0;
  for (const auto& entry : std::filesystem::directory_iterator(FRISKET_SOURCE_DIR "/fixtures/bad")) {
    const std::string name = entry.path().filename();
    ASSERT_TRUE(sayings.contains(name)) << name;
    EXPECT_THAT(error_of([&] { open_page(entry.path(), 1, 72.0); }), testing::HasSubstr(sayings.at(name)))
        << name;
    ++files;
  }
  EXPECT_EQ(files, sayings.size());
}

}  // namespace
}  // namespace frisket
