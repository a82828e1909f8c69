// The stages of a page as inspect() tells them.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "planted_page.hpp"

namespace frisket {
namespace {

using namespace planted;

TEST(Stages, AnalysisAndChecksAreToldInTheirOrderWithAllOfTheTime) {
  std::vector<std::string> stages;
  double told = 0;
  const StageSink sink = [&](std::string_view stage, double seconds) {
    EXPECT_GE(seconds, 0) << stage;
    stages.emplace_back(stage);
    told += seconds;
  };
  const Raster raster = render(rect(20, 20, 40, 30, "#305070"));
  const auto began = std::chrono::steady_clock::now();
  inspect(raster, letter_fold_job(), {"planted.png", 1, Side::outside, std::nullopt}, sink);
  const double taken = std::chrono::duration<double>(std::chrono::steady_clock::now() - began).count();
  EXPECT_THAT(stages, testing::ElementsAre("placing", "guides", "surfaces", "patterns", "elements",
                                           "patterns", "elements", "text", "drawings", "pictures",
                                           "page-size", "safe-zone", "bleed", "folds", "resolution"));
  EXPECT_LE(told, taken);
  EXPECT_GT(told, 0.9 * taken);
}

TEST(Stages, WhatWentBeforeAStartIsNotTold) {
  double told = 1e9;
  const StageSink sink = [&](std::string_view, double seconds) { told = seconds; };
  StageClock clock(sink);
  const auto began = std::chrono::steady_clock::now();
  while (std::chrono::steady_clock::now() - began < std::chrono::milliseconds(20)) continue;
  clock.start();
  const auto restarted = std::chrono::steady_clock::now();
  clock.end("after");
  EXPECT_LE(told, std::chrono::duration<double>(std::chrono::steady_clock::now() - restarted).count() + 1e-3);
}

}  // namespace
}  // namespace frisket
