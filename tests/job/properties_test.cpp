// What holds for every job, tried on 10,000 random ones of each kind (seeded: each run tries the same).
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <numeric>
#include <random>

#include "frisket/error.hpp"
#include "job/covers.hpp"
#include "job/folds.hpp"

namespace frisket {
namespace {

constexpr int jobs = 10'000;
constexpr double micrometre = 0.001;  // mm

class Chance {
 public:
  explicit Chance(unsigned seed) : engine_(seed) {}
  double between(double least, double most) { return std::uniform_real_distribution(least, most)(engine_); }
  int whole(int least, int most) { return std::uniform_int_distribution(least, most)(engine_); }
  bool toss() { return whole(0, 1) == 1; }
  Length length(double least_mm, double most_mm) { return Length::from_mm(between(least_mm, most_mm)); }
  template <class Choices>
  auto one_of(const Choices& choices) {
    return choices[static_cast<std::size_t>(whole(0, static_cast<int>(std::size(choices)) - 1))];
  }

 private:
  std::mt19937 engine_;
};

constexpr std::array ruled_kinds{
    FoldKind::half, FoldKind::letter,          FoldKind::z,    FoldKind::gate, FoldKind::double_gate,
    FoldKind::roll, FoldKind::double_parallel, FoldKind::cross};
constexpr std::array units{Unit::millimetre, Unit::centimetre, Unit::inch, Unit::point};

struct RandomJob {
  FoldRequest request;
  Size trim;
  Turn turn;
  Unit unit;
};

std::vector<Length> random_panels(Chance& chance, Length length) {
  std::vector<double> shares(static_cast<std::size_t>(chance.whole(1, 8)));
  for (double& share : shares) share = chance.between(0.2, 1.0);
  const double whole = std::accumulate(shares.begin(), shares.end(), 0.0);
  std::vector<Length> panels;
  for (const double share : shares) panels.push_back(length * (share / whole));
  panels.back() += chance.length(-0.009, 0.009);  // as numbers typed with two decimals may miss
  return panels;
}

/// Sheets from 150 mm to 1.2 m: long enough for ten panels in a roll.
RandomJob random_job(Chance& chance) {
  RandomJob job;
  job.trim = {chance.length(150, 1200), chance.length(150, 1200)};
  job.turn = chance.toss() ? Turn::head_to_head : Turn::head_to_foot;
  job.unit = chance.one_of(units);
  FoldRequest& request = job.request;
  request.kind = chance.whole(0, 4) == 0 ? FoldKind::list : chance.one_of(ruled_kinds);
  request.count = chance.whole(3, 10);
  request.along = chance.toss() ? Axis::x : Axis::y;
  request.tucked = chance.toss() ? End::first : End::last;
  request.stock = chance.toss() ? Stock::text : Stock::cover;
  if (chance.whole(0, 3) == 0) request.shorter = chance.length(0.2, 3);
  if (request.kind != FoldKind::list) return job;
  request.panels = random_panels(chance, job.trim.width);
  request.panels_y = random_panels(chance, job.trim.height);
  return job;
}

double sum_mm(const std::vector<Length>& lengths) {
  return std::accumulate(lengths.begin(), lengths.end(), Length()).mm();
}

double panel_area(const SideLayout& side) {
  double area = 0;
  for (const Panel& panel : side.panels) area += panel.area.width.mm() * panel.area.height.mm();
  return area;
}

TEST(EveryFold, HasPanelsThatAddUpToTheTrim) {
  Chance chance(1);
  for (int i = 0; i < jobs; ++i) {
    const RandomJob job = random_job(chance);
    const Panels panels = plan_panels(job.request, job.trim, job.unit);
    ASSERT_NEAR(sum_mm(panels.columns), job.trim.width.mm(), micrometre) << i;
    ASSERT_NEAR(sum_mm(panels.rows), job.trim.height.mm(), micrometre) << i;
    const BothSides sides = lay_out(panels, job.request, job.turn);
    for (const SideLayout* side : {&sides.inside, &sides.outside}) {
      ASSERT_NEAR(panel_area(*side) / (job.trim.width.mm() * job.trim.height.mm()), 1.0, 1e-9) << i;
      ASSERT_TRUE(std::ranges::is_sorted(side->folds) && std::ranges::is_sorted(side->folds_y)) << i;
    }
  }
}

TEST(EveryFold, IsItselfWhenMirroredTwice) {
  Chance chance(2);
  for (int i = 0; i < jobs; ++i) {
    const RandomJob job = random_job(chance);
    const auto columns = plan_panels(job.request, job.trim, job.unit).columns;
    ASSERT_EQ(seen_from_behind(seen_from_behind(columns, true), true), columns) << i;
    ASSERT_EQ(seen_from_behind(columns, false), columns) << i;
  }
}

/// Folds of one side as they lie on the other, by their distance from the opposite edge where mirrored.
std::vector<double> through_the_paper(const std::vector<Length>& folds, Length length, bool mirrored) {
  std::vector<double> positions;
  for (const Length fold : folds) positions.push_back((mirrored ? length - fold : fold).mm());
  std::ranges::sort(positions);
  return positions;
}

void expect_meeting(const std::vector<Length>& inside, const std::vector<Length>& outside, Length length,
                    bool mirrored) {
  const auto expected = through_the_paper(inside, length, mirrored);
  ASSERT_EQ(outside.size(), expected.size());
  for (std::size_t i = 0; i < expected.size(); ++i) ASSERT_NEAR(outside[i].mm(), expected[i], micrometre);
}

void expect_sides_meet(const BothSides& sides, const Size& trim, Turn turn) {
  expect_meeting(sides.inside.folds, sides.outside.folds, trim.width, turn == Turn::head_to_head);
  expect_meeting(sides.inside.folds_y, sides.outside.folds_y, trim.height, turn == Turn::head_to_foot);
}

TEST(EveryFold, MeetsItsOtherSideThroughThePaper) {
  Chance chance(3);
  for (int i = 0; i < jobs; ++i) {
    const RandomJob job = random_job(chance);
    SCOPED_TRACE(i);
    expect_sides_meet(lay_out(plan_panels(job.request, job.trim, job.unit), job.request, job.turn), job.trim,
                      job.turn);
    if (HasFatalFailure()) return;
  }
}

/// Pairs of panels, the one that goes inside and the one it goes into, told from what the folds do.
std::vector<std::pair<Length, Length>> tucks(FoldKind kind, const std::vector<Length>& p) {
  switch (kind) {
    case FoldKind::letter:
      return {{p[2], p[1]}, {p[2], p[0]}};
    case FoldKind::roll: {
      std::vector<std::pair<Length, Length>> pairs;
      for (std::size_t i = 2; i < p.size(); ++i) pairs.emplace_back(p[i], p[i - 1]);
      return pairs;
    }
    case FoldKind::gate:
      return {{p[0] + p[2], p[1]}};
    case FoldKind::double_gate:
      return {{p[0], p[1]}, {p[3], p[2]}};
    case FoldKind::double_parallel:
      return {{p[2], p[1]}, {p[3], p[0]}};
    default:
      return {};
  }
}

TEST(EveryFold, TucksNoPanelIntoANarrowerOne) {
  Chance chance(4);
  int tucked = 0;
  for (int i = 0; i < jobs; ++i) {
    const RandomJob job = random_job(chance);
    const Panels panels = plan_panels(job.request, job.trim, job.unit);
    auto along = job.request.along == Axis::x ? panels.columns : panels.rows;
    if (job.request.tucked == End::first) std::ranges::reverse(along);
    for (const auto& [inner, outer] : tucks(job.request.kind, along)) {
      ASSERT_LT(inner.mm(), outer.mm()) << i << " " << fold_name(job.request.kind);
      ++tucked;
    }
  }
  EXPECT_GT(tucked, jobs / 2);
}

TEST(EveryFold, TakesItsOwnPanelsWhenTheyAreListed) {
  Chance chance(5);
  for (int i = 0; i < jobs; ++i) {
    RandomJob job = random_job(chance);
    const Panels panels = plan_panels(job.request, job.trim, job.unit);
    const bool along_x = job.request.along == Axis::x;
    if (job.request.kind == FoldKind::cross || along_x) job.request.panels = panels.columns;
    if (job.request.kind == FoldKind::cross || !along_x) job.request.panels_y = panels.rows;
    const Panels again = plan_panels(job.request, job.trim, job.unit);
    ASSERT_NEAR(again.columns.front().mm(), panels.columns.front().mm(), micrometre) << i;
    ASSERT_NEAR(again.rows.front().mm(), panels.rows.front().mm(), micrometre) << i;
  }
}

CoverRequest random_cover(Chance& chance) {
  CoverRequest request;
  request.kind = chance.one_of(
      std::array{CoverKind::perfect, CoverKind::saddle, CoverKind::jacket, CoverKind::case_bound});
  request.pages = 4 * chance.whole(1, 250);
  request.leaf = chance.length(0.04, 0.4);
  request.cover_caliper = chance.length(0, 0.5);
  if (chance.toss()) request.board = chance.length(1, 4);
  if (chance.toss()) request.hinge = chance.length(3, 10);
  request.flap = chance.length(40, 90);
  request.inset = chance.length(0, 5);
  request.bound_right = chance.toss();
  return request;
}

TEST(EveryCover, AddsUpAndMeetsItsInside) {
  Chance chance(6);
  for (int i = 0; i < jobs; ++i) {
    SCOPED_TRACE(i);
    const CoverRequest request = random_cover(chance);
    const Size page{chance.length(100, 400), chance.length(100, 400)};
    const Turn turn = chance.toss() ? Turn::head_to_head : Turn::head_to_foot;
    const CoverPlan plan = plan_cover(request, page, turn, Unit::millimetre);
    ASSERT_NEAR(panel_area(plan.sides.outside) / (plan.flat.width.mm() * plan.flat.height.mm()), 1.0, 1e-9);
    expect_sides_meet(plan.sides, plan.flat, turn);
    if (HasFatalFailure()) return;
    ASSERT_EQ(plan.spine.has_value(), request.kind != CoverKind::saddle);
    ASSERT_EQ(plan.sides.inside.own_clear.size(), plan.sides.outside.own_clear.size());
  }
}

}  // namespace
}  // namespace frisket
