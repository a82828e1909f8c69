#include "job/covers.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>

#include "frisket/job.hpp"
#include "job/limit_table.hpp"

namespace frisket {
namespace {

using testing::ElementsAre;
using testing::Pair;
using testing::UnorderedElementsAre;
using namespace literals;

const std::string tickets = FRISKET_SOURCE_DIR "/fixtures/tickets/";
const Size a5{148_mm, 210_mm};

Job read(const std::string& name) { return read_job(tickets + name, {}, test_limits); }

std::vector<std::string> names(const SideLayout& side) {
  std::vector<std::string> list;
  for (const Panel& panel : side.panels) list.push_back(panel.name);
  return list;
}

std::vector<double> in_mm(const std::vector<Length>& lengths) {
  std::vector<double> list;
  for (const Length length : lengths) list.push_back(length.mm());
  return list;
}

CoverRequest block_of(int pages, Length leaf) {
  CoverRequest request;
  request.pages = pages;
  request.leaf = leaf;
  return request;
}

struct SpineRow {
  CoverRequest request;
  Length spine, within;
  const char* source;
};

CoverRequest square_back_case() {
  CoverRequest request = block_of(512, 0.08_mm);
  request.kind = CoverKind::case_bound;
  request.endpaper_caliper = 0.15_mm;
  request.board = 2_mm;
  request.cover_caliper = 0.3_mm;
  return request;
}

// Worked spines; the result of each is published, all C. The sources disagree on whether the cover stock
// counts: here it does where its caliper is given, because the one full worked sum (the square-back case)
// counts it. The book maker rounds 0.2496 to 1/4 in, others to 1/32: a spine is not rounded here, since the
// fold has to lie where the paper bends. Of the two spines that a book maker gives for paper by weight no
// bulk is stated; see below.
TEST(Spine, AgreesWithPublishedExamples) {
  const std::array rows{
      SpineRow{block_of(128, 0.0039_in), 0.2496_in, 0.00001_in, "book maker"},
      SpineRow{block_of(200, 0.005_in), 0.500_in, 0.00001_in, "copy shop"},
      SpineRow{block_of(200, leaf_from_ppi(400)), 0.500_in, 0.00001_in, "book publisher guide"},
      SpineRow{block_of(300, leaf_from_ppi(450)), 0.667_in, 0.0005_in, "encyclopedic blog"},
      SpineRow{block_of(512, 0.08_mm), 20.48_mm, 0.00001_mm, "trade article"},
      SpineRow{square_back_case(), 25.68_mm, 0.00001_mm, "trade article: 4 endpapers, 2 boards, 2 cover"},
      SpineRow{block_of(250, leaf_from_grammage(90, 1.0)), 11.25_mm, 0.00001_mm, "how-to page, bulk 1.0"},
      // 13.31 mm for 124 leaves of 80 g/m2 is a bulk of 1.342, usual for offset paper; weight alone, which is
      // bulk 1.0, would give 9.92 mm.
      SpineRow{block_of(248, leaf_from_grammage(80, 1.342)), 13.31_mm, 0.01_mm,
               "book maker, bulk worked back"}};
  for (const SpineRow& row : rows)
    EXPECT_NEAR(spine_width(row.request).value().mm(), row.spine.mm(), row.within.mm()) << row.source;
}

TEST(Spine, OfSaddleStitchingIsNone) {
  CoverRequest request = block_of(64, 0.0047_in);
  request.kind = CoverKind::saddle;
  EXPECT_FALSE(spine_width(request));
}

struct PaperRow {
  double ppi, caliper_in;
};

// A book house's table (P) holds PPI = 2 / caliper within 1 % (C); 666.7 to 317.5 are computed from the
// calipers of stock A55 in the paper standards of the US Joint Committee on Printing, 1999 (C).
TEST(Leaf, AgreesWithPublishedPapers) {
  for (const PaperRow& row :
       {PaperRow{515, .0039}, PaperRow{435, .0046}, PaperRow{395, .0051}, PaperRow{360, .0056}})
    EXPECT_NEAR(leaf_from_ppi(row.ppi).inches(), row.caliper_in, 0.01 * row.caliper_in);
  for (const PaperRow& row : {PaperRow{666.7, .0030}, PaperRow{512.8, .0039}, PaperRow{425.5, .0047},
                              PaperRow{363.6, .0055}, PaperRow{317.5, .0063}})
    EXPECT_NEAR(leaf_from_ppi(row.ppi).inches(), row.caliper_in, 1e-6);
}

struct FlatRow {
  CoverRequest request;
  Size page, flat;
  const char* source;
};

CoverRequest perfect_of(Length spine) {
  CoverRequest request;
  request.spine = spine;
  return request;
}

CoverRequest case_of(Length spine, Length overhang, Length joint, Length turn_in, Length inset) {
  CoverRequest request = perfect_of(spine);
  request.kind = CoverKind::case_bound;
  request.overhang = overhang, request.joint = joint, request.turn_in = turn_in, request.inset = inset;
  return request;
}

// Flat sizes as published. The spines 13.31 and 6.90 mm are taken as given: their source states no bulk.
TEST(Covers, HaveThePublishedFlatSizes) {
  const std::array rows{
      FlatRow{perfect_of(13.31_mm), a5, {309.31_mm, 210_mm}, "248 pp, book maker, C"},
      FlatRow{perfect_of(6.90_mm), a5, {302.9_mm, 210_mm}, "100 pp, book maker, P"},
      // The rule taken by default, because its example can be checked to the end.
      FlatRow{case_of(17_mm, 4_mm, 8_mm, 20_mm, 0_mm), a5, {369_mm, 258_mm}, "248 pp case, sums computed, C"},
      // The other formula: w = 2 (board + 10) + spine + 34 with board = page - 3.5; h = block + 6 + 34 (P).
      FlatRow{case_of(17_mm, 3_mm, 10_mm, 17_mm, 3.5_mm), a5, {360_mm, 250_mm}, "book maker's formulas, P"}};
  for (const FlatRow& row : rows) {
    const CoverPlan plan = plan_cover(row.request, row.page, Turn::head_to_head, Unit::millimetre);
    EXPECT_NEAR(plan.flat.width.mm(), row.flat.width.mm(), 1e-9) << row.source;
    EXPECT_NEAR(plan.flat.height.mm(), row.flat.height.mm(), 1e-9) << row.source;
  }
}

// The full cover is 2 pages, spine and twice the bleed wide (book maker): 248 pp with 5 mm of bleed.
TEST(Covers, AreAsLargeAsTheirBookMakerSaysWithBleed) {
  const Job job = read_job(tickets + "perfect-cover.json",
                           std::vector<JobFlag>{{"trim", "148x210mm"}, {"bleed", "5mm"}}, test_limits);
  const Rect canvas = grown({{}, {}, job.trim.width, job.trim.height}, job.bleed);
  EXPECT_NEAR(canvas.width.mm(), 2 * 148 + job.spine.value().mm() + 2 * 5, 1e-9);
  EXPECT_NEAR(canvas.height.mm(), 210 + 2 * 5, 1e-9);
}

// 8.5 x 11 in case: boards 8.34 x 11.27 in, page width - 0.16, page height + 0.27 (book maker, C).
TEST(Covers, HaveThePublishedBoards) {
  CoverRequest request = case_of(1_in, 0.135_in, 8_mm, 20_mm, 0.16_in);
  const Size board = board_size(request, {8.5_in, 11_in});
  EXPECT_NEAR(board.width.inches(), 8.34, 1e-9);
  EXPECT_NEAR(board.height.inches(), 11.27, 1e-9);
}

// Inside cover: no ink on the backbone and 3/16 in each side; backbone 1/2 in leaves 7/8 in blank (template
// notes, worked).
TEST(Covers, HaveTheirHingesThePublishedWayApart) {
  CoverRequest request = perfect_of(0.5_in);
  request.hinge = 3_in / 16.0;
  const auto folds = plan_cover(request, a5, Turn::head_to_head, Unit::inch).sides.inside.folds;
  ASSERT_EQ(folds.size(), 4u);
  EXPECT_NEAR((folds[3] - folds[0]).inches(), 0.875, 1e-9);
}

// CD booklet: pages of 120.5 x 119.5 mm; the spread with bleed 3 + 120.5 + 120.5 + 3 = 247 mm, 125.5 high
// (insert maker, worked).
TEST(Covers, AddUpWithBleed) {
  const Job job = job_from_flags(
      std::vector<JobFlag>{{"trim", "241x119.5mm"}, {"bleed", "3mm"}, {"folds", "half"}}, test_limits);
  EXPECT_NEAR(job.inside.folds.at(0).mm(), 120.5, 1e-9);
  const Rect canvas = grown({{}, {}, job.trim.width, job.trim.height}, job.bleed);
  EXPECT_NEAR(canvas.width.mm(), 247, 1e-9);
  EXPECT_NEAR(canvas.height.mm(), 125.5, 1e-9);
}

TEST(PerfectCover, IsLaidOutFromBackToFront) {
  const Job job = read("perfect-cover.json");
  const double spine = 124 * 0.0039 + 2 * 0.01;
  EXPECT_NEAR(job.spine.value().inches(), spine, 1e-9);
  EXPECT_NEAR(job.trim.width.inches(), 12 + spine, 1e-9);
  EXPECT_EQ(job.trim.height, 9_in);
  EXPECT_EQ(job.finished, (Size{6_in, 9_in}));
  EXPECT_THAT(names(job.outside),
              ElementsAre("back cover", "back hinge", "spine", "front hinge", "front cover"));
  EXPECT_THAT(names(job.inside), ElementsAre("inside front cover", "inside front hinge", "inside spine",
                                             "inside back hinge", "inside back cover"));
  EXPECT_NEAR(job.outside.folds[0].inches(), 5.8125, 1e-9);
  EXPECT_NEAR(job.outside.folds[1].inches(), 6, 1e-9);
  EXPECT_NEAR(job.outside.folds[3].inches(), 6 + spine + 0.1875, 1e-9);
}

// 3/32 in at least from the edge of the spine (template notes, P); the hinge has the job's own distance.
TEST(PerfectCover, KeepsTextClearOfBothEdgesOfTheSpine) {
  const Job job = read("perfect-cover.json");
  for (const SideLayout* side : {&job.inside, &job.outside})
    EXPECT_THAT(side->own_clear, UnorderedElementsAre(Pair(2, 3_in / 32.0), Pair(3, 3_in / 32.0)));
}

TEST(Jacket, GoesRoundTheCaseAndIsReversedForBindingOnTheRight) {
  const Job job = read("jacket.json");
  EXPECT_NEAR(job.spine.value().mm(), 124 * 0.09 * 1.3 + 5, 1e-9);
  EXPECT_THAT(names(job.outside),
              ElementsAre("front flap", "front cover", "spine", "back cover", "back flap"));
  EXPECT_THAT(names(job.inside), ElementsAre("inside back flap", "inside back cover", "inside spine",
                                             "inside front cover", "inside front flap"));
  // Board as wide as the page, joint 8, and 4 mm beyond the pages at head and at foot.
  EXPECT_EQ(in_mm({job.outside.folds[0], job.outside.folds[1]}), (std::vector{80.0, 236.0}));
  EXPECT_EQ(job.finished, (Size{156_mm, 218_mm}));
  EXPECT_EQ(job.trim.height, 218_mm);
  EXPECT_EQ(job.outside.own_clear.at(2), 3_mm);
}

TEST(Jacket, RoundAPaperbackIsAsHighAsThePages) {
  CoverRequest request = perfect_of(10_mm);
  request.kind = CoverKind::jacket;
  request.flap = 80_mm;
  const CoverPlan plan = plan_cover(request, a5, Turn::head_to_head, Unit::millimetre);
  EXPECT_EQ(plan.flat, (Size{466_mm, 210_mm}));
  EXPECT_EQ(plan.finished, a5);
}

TEST(Case, HasTurnInsAllRound) {
  const Job job = read("case.json");
  EXPECT_EQ(in_mm(job.outside.folds), (std::vector{20.0, 168.0, 176.0, 193.0, 201.0, 349.0}));
  EXPECT_EQ(in_mm(job.outside.folds_y), (std::vector{20.0, 238.0}));
  ASSERT_EQ(job.outside.panels.size(), 21u);
  EXPECT_EQ(job.outside.panels[3].name, "turn-in");
  EXPECT_EQ(job.outside.panels[8].name, "back cover");
  EXPECT_EQ(job.outside.panels[10].name, "spine");
  EXPECT_EQ(job.outside.panels[12].name, "front cover");
  EXPECT_EQ(job.inside.panels[8].name, "inside front cover");
  EXPECT_EQ(job.finished, (Size{156_mm, 218_mm}));
  EXPECT_NEAR(read("case-of-parts.json").spine.value().mm(), 25.68, 1e-9);
}

TEST(SaddleCover, IsFoldedInTheMiddleAndHasNoSpine) {
  const Job job = read("saddle-booklet.json");
  EXPECT_FALSE(job.spine);
  EXPECT_EQ(job.trim, (Size{11_in, 8.5_in}));
  EXPECT_THAT(names(job.outside), ElementsAre("back cover", "front cover"));
  EXPECT_THAT(names(job.inside), ElementsAre("inside front cover", "inside back cover"));
  ASSERT_EQ(job.outside.folds.size(), 1u);
  EXPECT_NEAR(job.outside.folds[0].inches(), 5.5, 1e-9);
  EXPECT_TRUE(job.outside.own_clear.empty());
  EXPECT_EQ(job.creep.size(), 16u);
}

// Nested sheets by geometry (C): 64 pp of 0.0047 in: 15 x 0.0047 = 0.0705 in = 1.79 mm = 21.2 px at 300 ppi;
// 16 pp of 0.1 mm: 0.30 mm. The trade shortcut, one caliper more, counts a sheet that pushes nothing.
TEST(Creep, AgreesWithPublishedExamples) {
  const auto booklet = creep(64, 0.0047_in, {});
  EXPECT_NEAR(booklet.back().inches(), 0.0705, 1e-9);
  EXPECT_NEAR(booklet.back().mm(), 1.79, 0.005);
  EXPECT_NEAR(booklet.back().pixels(300), 21.2, 0.06);
  EXPECT_EQ(booklet.front(), Length());
  EXPECT_NEAR(creep(16, 0.1_mm, {}).back().mm(), 0.30, 1e-9);
  EXPECT_NEAR(creep(16, 0.1_mm, 0.25_mm).front().mm(), 0.25, 1e-9);
}

}  // namespace
}  // namespace frisket
