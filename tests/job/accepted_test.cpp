#include <gtest/gtest.h>

#include "frisket/job.hpp"

namespace frisket {
namespace {

using namespace literals;

Finding headline(Length distance) {
  Finding finding;
  finding.check = "safe-zone";
  finding.kind = "text-in-band";
  finding.box = {20_mm, distance, 46_mm, 6_mm - distance};
  finding.measured = distance;
  finding.required = 6_mm;
  return finding;
}

AcceptedFinding accepted(const Finding& finding) {
  return {"outside.png",
          1,
          std::string(finding.check),
          std::string(finding.kind),
          finding.box,
          finding.measured,
          finding.measured_ppi,
          "as the client wishes",
          "M. Orr"};
}

TEST(Accepted, HoldsForTheSameFindingAndForABetterOne) {
  EXPECT_TRUE(accepts(accepted(headline(2.1_mm)), headline(2.1_mm)));
  EXPECT_TRUE(accepts(accepted(headline(2.1_mm)), headline(2.06_mm)));
  EXPECT_TRUE(accepts(accepted(headline(2.1_mm)), headline(2.5_mm)));
}

TEST(Accepted, EndsWhenTheDistanceGetsWorse) {
  EXPECT_FALSE(accepts(accepted(headline(2.1_mm)), headline(2.0_mm)));
}

TEST(Accepted, EndsWhenThePlaceMoves) {
  Finding moved = headline(2.1_mm);
  moved.box.x += 0.6_mm;
  EXPECT_FALSE(accepts(accepted(headline(2.1_mm)), moved));
}

TEST(Accepted, IsForOneKindAlone) {
  Finding other = headline(2.1_mm);
  other.kind = "drawing-in-band";
  EXPECT_FALSE(accepts(accepted(headline(2.1_mm)), other));
}

/// Off a fold, farther is worse.
TEST(Accepted, KnowsWhichWayIsWorse) {
  Finding finding = headline(1.2_mm);
  finding.kind = "colour-break-off-fold";
  finding.required = 0.5_mm;
  Finding farther = finding;
  farther.measured = 1.4_mm;
  EXPECT_FALSE(accepts(accepted(finding), farther));
  EXPECT_TRUE(accepts(accepted(farther), finding));
}

TEST(Accepted, CountsResolutionAsWell) {
  Finding picture = headline(2_mm);
  picture.measured = picture.required = std::nullopt;
  picture.measured_ppi = 150;
  picture.required_ppi = 300;
  Finding coarser = picture;
  coarser.measured_ppi = 140;
  EXPECT_TRUE(accepts(accepted(picture), picture));
  EXPECT_FALSE(accepts(accepted(picture), coarser));
}

}  // namespace
}  // namespace frisket
