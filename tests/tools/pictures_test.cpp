// The demo's pictures must be the same on every run, at any size asked for.
#include "pictures/pictures.hpp"

#include <gtest/gtest.h>

namespace pictures {
namespace {

struct Picture {
  const char* name;
  cv::Mat (*make)(cv::Size);
};

class Pictures : public testing::TestWithParam<Picture> {};

TEST_P(Pictures, HaveTheSizeAskedForAndThreeChannels) {
  const cv::Mat picture = GetParam().make({40, 60});
  EXPECT_EQ(picture.size(), cv::Size(40, 60));
  EXPECT_EQ(picture.type(), CV_8UC3);
}

TEST_P(Pictures, AreTheSameOnEveryRun) {
  EXPECT_EQ(cv::norm(GetParam().make({40, 60}), GetParam().make({40, 60}), cv::NORM_INF), 0);
}

INSTANTIATE_TEST_SUITE_P(Demo, Pictures,
                         testing::Values(Picture{"estuary", estuary}, Picture{"still_life", still_life},
                                         Picture{"tea_bowl", tea_bowl}, Picture{"crackle", crackle},
                                         Picture{"planks", planks}),
                         [](const auto& named) { return std::string(named.param.name); });

}  // namespace
}  // namespace pictures
