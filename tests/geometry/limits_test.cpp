#include "frisket/limits.hpp"

#include <gtest/gtest.h>

#include <array>

namespace frisket {
namespace {

using namespace literals;

constexpr LimitSpec safe{"safe", LimitKind::edges, 3, 0, 100, "clear distance inside the trim"};
constexpr LimitSpec tolerance{"cut_tolerance", LimitKind::length, 1.5, 0, 10, "how far the cut may wander"};
constexpr LimitSpec least{"resolution.least", LimitKind::ppi, 225, 1, 10000, "lowest resolution"};
constexpr std::array specs{safe, tolerance, least};

TEST(Limits, StartAtTheirDefaults) {
  const Limits limits = Limits::standard(specs);
  EXPECT_EQ(limits.edges(safe), Edges::all(3_mm));
  EXPECT_EQ(limits.length(tolerance), 1.5_mm);
  EXPECT_EQ(limits.ppi(least), 225.0);
  ASSERT_EQ(limits.all().size(), 3u);
  for (const auto& [key, limit] : limits.all()) EXPECT_EQ(limit.from, LimitSource::standard) << key;
}

TEST(Limits, KeepTheLastValueAndWhereItCameFrom) {
  Limits limits = Limits::standard(specs);
  limits.set(tolerance, 1_mm, LimitSource::printer);
  limits.set(tolerance, 2_mm, LimitSource::ticket);
  EXPECT_EQ(limits.length(tolerance), 2_mm);
  EXPECT_EQ(limits.all().find("cut_tolerance")->second.from, LimitSource::ticket);
  EXPECT_EQ(limits.edges(safe), Edges::all(3_mm));
}

TEST(Limits, KnowTheDefaultOfALimitNobodySet) {
  const Limits none;
  EXPECT_EQ(none.length(tolerance), 1.5_mm);
  EXPECT_EQ(none.edges(safe), Edges::all(3_mm));
  EXPECT_EQ(none.ppi(least), 225.0);
}

TEST(Limits, NameTheirSources) {
  EXPECT_EQ(limit_source_name(LimitSource::standard), "default");
  EXPECT_EQ(limit_source_name(LimitSource::printer), "printer");
  EXPECT_EQ(limit_source_name(LimitSource::ticket), "ticket");
  EXPECT_EQ(limit_source_name(LimitSource::flag), "flag");
}

}  // namespace
}  // namespace frisket
