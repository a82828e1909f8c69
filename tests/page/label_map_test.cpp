// Labels kept as runs against the same labels one a pixel; parts of masks against OpenCV's labelling.
#include "page/zones/label_map.hpp"

#include <gtest/gtest.h>

#include <random>

#include "page/zones/run_components.hpp"

namespace frisket {
namespace {

cv::Mat1i random_labels(std::mt19937& random, cv::Size size, int labels) {
  cv::Mat1i dense(size);
  int label = 0;
  for (int& pixel : dense) {
    if (random() % 3 == 0) label = static_cast<int>(random() % static_cast<unsigned>(labels));
    pixel = label;
  }
  return dense;
}

LabelMap map_of(const cv::Mat1i& dense) {
  LabelMap map(dense.size(), 0);
  for (int y = 0; y < dense.rows; ++y) map.add_row(dense[y]);
  return map;
}

TEST(LabelMap, HoldsWhatWasPutIn) {
  std::mt19937 random(11);
  for (const cv::Size size : {cv::Size(1, 1), cv::Size(17, 5), cv::Size(64, 40)}) {
    const cv::Mat1i dense = random_labels(random, size, 4);
    const LabelMap map = map_of(dense);
    for (int y = 0; y < size.height; ++y)
      for (int x = 0; x < size.width; ++x) ASSERT_EQ(map(y, x), dense(y, x)) << x << ' ' << y;
    const cv::Rect part(size.width / 3, size.height / 4, size.width - size.width / 3, size.height / 2 + 1);
    EXPECT_EQ(cv::countNonZero(map.dense(part) != dense(part)), 0);
  }
}

TEST(LabelMap, StoresOneRunForPixelsThatTouchAndAreAlike) {
  LabelMap map({10, 1}, 0);
  map.add_row(std::vector<frisket::Run>{{1, 3, 7}, {3, 5, 7}, {5, 6, 8}, {6, 8, 0}, {8, 10, 8}});
  const std::vector<frisket::Run> stored(map.row(0).begin(), map.row(0).end());
  EXPECT_EQ(stored, (std::vector<frisket::Run>{{1, 5, 7}, {5, 6, 8}, {8, 10, 8}}));
}

TEST(LabelMap, PaintsWhatAMaskSaysAndNothingElse) {
  std::mt19937 random(12);
  cv::Mat1i dense = random_labels(random, {40, 30}, 5);
  LabelMap map = map_of(dense);
  const cv::Rect area(5, 7, 20, 11);
  cv::Mat1b mask;
  cv::compare(random_labels(random, area.size(), 3), 1, mask, cv::CMP_EQ);
  dense(area).setTo(4, mask);
  map.paint(area, mask, 4);
  EXPECT_EQ(cv::countNonZero(map.dense({{}, dense.size()}) != dense), 0);
}

TEST(LabelMap, CountsPixelsOnTheEdge) {
  EXPECT_EQ(pixels_on_edge({2, 5, 1}, 0, {10, 4}), 3);
  EXPECT_EQ(pixels_on_edge({2, 5, 1}, 1, {10, 4}), 0);
  EXPECT_EQ(pixels_on_edge({0, 10, 1}, 1, {10, 4}), 2);
  EXPECT_EQ(pixels_on_edge({0, 1, 1}, 1, {1, 4}), 1) << "both ends are one pixel";
}

TEST(RunComponents, AreThoseOfOpenCv) {
  std::mt19937 random(13);
  for (int round = 0; round < 40; ++round) {
    cv::Mat1b mask(1 + static_cast<int>(random() % 30), 1 + static_cast<int>(random() % 30));
    for (std::uint8_t& pixel : mask) pixel = random() % 5 < 2 ? 255 : 0;
    cv::Mat labels, stats, centres;
    const bool corners = round % 2 == 0;
    const int count = cv::connectedComponentsWithStats(mask, labels, stats, centres, corners ? 8 : 4, CV_32S);
    const RunComponents found =
        connect(mask.size(), rows_of(mask), corners ? Joined::by_corners_too : Joined::by_sides);
    ASSERT_EQ(static_cast<int>(found.parts.size()), count - 1);
    std::vector<int> theirs(found.parts.size(), 0);
    for (int y = 0; y < mask.rows; ++y)
      for (int x = 0; x < mask.cols; ++x) {
        const int part = found.label(y, x), label = labels.at<int>(y, x);
        ASSERT_EQ(part < 0, label == 0);
        if (part < 0) continue;
        int& same = theirs[static_cast<std::size_t>(part)];
        if (same == 0) {
          same = label;
          EXPECT_EQ(found.parts[static_cast<std::size_t>(part)].area, stats.at<int>(label, cv::CC_STAT_AREA));
          EXPECT_EQ(
              found.parts[static_cast<std::size_t>(part)].box,
              cv::Rect(stats.at<int>(label, cv::CC_STAT_LEFT), stats.at<int>(label, cv::CC_STAT_TOP),
                       stats.at<int>(label, cv::CC_STAT_WIDTH), stats.at<int>(label, cv::CC_STAT_HEIGHT)));
        }
        ASSERT_EQ(same, label);
      }
  }
}

}  // namespace
}  // namespace frisket
