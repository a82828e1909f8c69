// Rows told of while a page is decoded.
#include "frisket/decoding_watcher.hpp"

#include <gmock/gmock.h>

#include <algorithm>
#include <span>

#include "page_files.hpp"

namespace frisket {
namespace {

/// Holds what it is told against the page once it is there.
class Watcher : public DecodingWatcher {
 public:
  void rows_decoded(const Raster& page, int rows) override {
    EXPECT_FALSE(ended);
    EXPECT_EQ(page.height, 47);
    const std::size_t row = static_cast<std::size_t>(page.width) * 3;
    first_rows.emplace_back(page.rgb.data(), page.rgb.data() + static_cast<std::size_t>(rows) * row);
    told.push_back(rows);
    if (throws) throw Error("stop");
  }
  void decoding_ended() noexcept override { ended = true; }

  std::vector<int> told;
  std::vector<std::vector<std::uint8_t>> first_rows;
  bool ended = false, throws = false;
};

TEST(DecodingWatcher, IsToldOfRowsThatHold) {
  const ScratchFolder folder;
  for (const char* name : {"a.png", "a.tif", "a.jpg", "a.webp", "a.ppm"}) {
    Watcher watcher;
    const Raster raster = open_page(saved(sample_picture(), folder / name), 1, {}, {}, &watcher);
    EXPECT_TRUE(watcher.ended) << name;
    ASSERT_FALSE(watcher.told.empty()) << name;
    EXPECT_EQ(watcher.told.back(), raster.height) << name;
    EXPECT_TRUE(std::ranges::is_sorted(watcher.told)) << name;
    for (const std::vector<std::uint8_t>& rows : watcher.first_rows)
      EXPECT_TRUE(std::ranges::equal(rows, std::span(raster.rgb).first(rows.size()))) << name;
  }
}

TEST(DecodingWatcher, StopsByThrowing) {
  const ScratchFolder folder;
  Watcher watcher;
  watcher.throws = true;
  EXPECT_THROW(open_page(saved(sample_picture(), folder / "a.png"), 1, {}, {}, &watcher), Error);
  EXPECT_TRUE(watcher.ended);
  EXPECT_EQ(watcher.told.size(), 1U);
}

TEST(DecodingWatcher, IsToldTheEndOfAFileThatCannotBeDecoded) {
  const ScratchFolder folder;
  std::string bytes = content(saved(sample_picture(), folder / "a.png"));
  bytes[bytes.size() / 2] = static_cast<char>(bytes[bytes.size() / 2] ^ 0x55);
  Watcher watcher;
  EXPECT_THROW(open_page(written(folder / "b.png", bytes), 1, {}, {}, &watcher), Error);
  EXPECT_TRUE(watcher.ended);
}

}  // namespace
}  // namespace frisket
