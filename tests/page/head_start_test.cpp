// Analysis begun while a page is decoded, against analysis of the whole page; texture strip by strip.
#include "frisket/head_start.hpp"

#include <gtest/gtest.h>

#include <random>

#include "opencv.hpp"
#include "page/maps.hpp"
#include "page/pictures/texture.hpp"

namespace frisket {
namespace {

constexpr double dpi = 100;

/// Trim and bleed of 6 x 5 in, and so 625 x 525 px.
Job small_job() {
  Job job;
  job.trim = job.finished = {Length::from_inches(6), Length::from_inches(5)};
  job.bleed = Edges::all(Length::from_inches(0.125));
  job.safe = Edges::all(Length::from_inches(0.25));
  job.dpi = dpi;
  return job;
}

/// Fields, ramps, noise and specks.
Raster random_page(std::mt19937& random) {
  Raster raster;
  raster.width = 625, raster.height = 525;
  raster.rgb.assign(625U * 525U * 3U, 255);
  const auto below = [&](unsigned end) { return static_cast<int>(random() % end); };
  for (int i = 0; i < 60; ++i) {
    const int x0 = below(625), y0 = below(525), side = i < 8 ? 300 : 40;
    const int x1 = std::min(625, x0 + 1 + below(side)), y1 = std::min(525, y0 + 1 + below(side));
    const int colour[] = {below(256), below(256), below(256)};
    const int slope = below(3), noise = 1 + (i % 4 == 0 ? below(60) : 0);
    for (int y = y0; y < y1; ++y)
      for (int x = x0; x < x1; ++x)
        for (int c = 0; c < 3; ++c)
          raster.rgb[static_cast<std::size_t>((y * 625 + x) * 3 + c)] =
              cv::saturate_cast<std::uint8_t>(colour[c] + slope * (x - x0) / 4 + below(noise));
  }
  return raster;
}

/// Hands the rows over as a decoder does: the others are not there yet.
Page analysed_while_decoded(const Raster& whole, const Job& job, Raster& decoded, std::mt19937& random) {
  HeadStart head_start(job);
  decoded = whole;
  std::ranges::fill(decoded.rgb, std::uint8_t{0});
  const std::size_t row = static_cast<std::size_t>(whole.width) * 3;
  for (int rows = 0; rows < whole.height;) {
    const int more = std::min(whole.height - rows, 1 + static_cast<int>(random() % 200));
    std::copy_n(whole.rgb.data() + static_cast<std::size_t>(rows) * row, static_cast<std::size_t>(more) * row,
                decoded.rgb.data() + static_cast<std::size_t>(rows) * row);
    rows += more;
    head_start.rows_decoded(decoded, rows);
  }
  head_start.decoding_ended();
  return analyse(decoded, job, {}, dpi, {}, &head_start);
}

void expect_same(const LabelMap& a, const LabelMap& b) {
  ASSERT_EQ(a.size(), b.size());
  for (int y = 0; y < a.rows; ++y) ASSERT_TRUE(std::ranges::equal(a.row(y), b.row(y))) << "row " << y;
}

TEST(HeadStart, FindsWhatIsFoundOnTheWholePage) {
  std::mt19937 random(21);
  const Job job = small_job();
  for (int round = 0; round < 8; ++round) {
    const Raster whole = random_page(random);
    Raster decoded;
    const Page page = analyse(whole, job, {}, dpi);
    const Page early = analysed_while_decoded(whole, job, decoded, random);
    ASSERT_EQ(early.maps->surfaces.surfaces.size(), page.maps->surfaces.surfaces.size());
    expect_same(early.maps->surfaces.label, page.maps->surfaces.label);
    expect_same(early.maps->element, page.maps->element);
    ASSERT_EQ(early.pictures.size(), page.pictures.size());
    for (std::size_t i = 0; i < page.pictures.size(); ++i)
      EXPECT_EQ(early.pictures[i].box_px.x, page.pictures[i].box_px.x);
    EXPECT_GT(page.elements.size(), 5U);
  }
}

TEST(HeadStart, AtAnotherPageIsNoHeadStart) {
  std::mt19937 random(22);
  const Job job = small_job();
  const Raster one = random_page(random), other = random_page(random);
  HeadStart head_start(job);
  head_start.rows_decoded(one, one.height);
  head_start.decoding_ended();
  const Page page = analyse(other, job, {}, dpi), early = analyse(other, job, {}, dpi, {}, &head_start);
  expect_same(early.maps->surfaces.label, page.maps->surfaces.label);
}

TEST(HeadStart, MayEndAtAnyRow) {
  std::mt19937 random(23);
  const Job job = small_job();
  const Raster page = random_page(random);
  for (const int rows : {0, 1, 255, 258, 300, 524}) {
    HeadStart head_start(job);
    if (rows > 0) head_start.rows_decoded(page, rows);
    head_start.decoding_ended();
    expect_same(analyse(page, job, {}, dpi, {}, &head_start).maps->surfaces.label,
                analyse(page, job, {}, dpi).maps->surfaces.label);
  }
}

TEST(Texture, IsTheSameStripByStrip) {
  std::mt19937 random(24);
  for (const double at : {100.0, 150.0, 300.0}) {
    const Raster raster = random_page(random);
    const cv::Mat rgb = view_of(raster);
    TextureMapper strips(rgb, at);
    int judged = 0;
    for (int rows = 0; rows <= rgb.rows; rows += 7) judged += strips.judge_next(rows);
    EXPECT_GT(judged, 0);
    const TextureMap map = strips.finish(), whole = TextureMapper(rgb, at).finish();
    EXPECT_EQ(cv::countNonZero(map.textured != whole.textured), 0) << at;
    EXPECT_EQ(cv::countNonZero(map.lettered != whole.lettered), 0) << at;
    EXPECT_EQ(cv::countNonZero(map.restless != whole.restless), 0) << at;
    EXPECT_GT(cv::countNonZero(map.lettered), 0) << at;
  }
}

}  // namespace
}  // namespace frisket
