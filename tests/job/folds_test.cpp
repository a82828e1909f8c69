#include "job/folds.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>

#include "frisket/error.hpp"

namespace frisket {
namespace {

using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::ThrowsMessage;
using namespace literals;

std::vector<Length> lengths(const std::vector<double>& values, Unit unit) {
  std::vector<Length> list;
  for (const double value : values) list.push_back(make_length(value, unit));
  return list;
}

void expect_near(const std::vector<Length>& actual, const std::vector<Length>& expected) {
  ASSERT_EQ(actual.size(), expected.size());
  for (std::size_t i = 0; i < actual.size(); ++i) EXPECT_NEAR(actual[i].mm(), expected[i].mm(), 1e-9) << i;
}

std::vector<std::string> names(const SideLayout& side) {
  std::vector<std::string> list;
  for (const Panel& panel : side.panels) list.push_back(panel.name);
  return list;
}

BothSides folded(const FoldRequest& request, const Size& trim, Unit unit, Turn turn = Turn::head_to_head) {
  return lay_out(plan_panels(request, trim, unit), request, turn);
}

FoldRequest fold(FoldKind kind) {
  FoldRequest request;
  request.kind = kind;
  return request;
}

FoldRequest fold_of(FoldKind kind, int count) {
  FoldRequest request = fold(kind);
  request.count = count;
  return request;
}

const Size letter_landscape{11_in, 8.5_in};

struct PanelRow {
  double length;
  Unit unit;
  FoldRequest request;
  std::vector<double> panels;
  const char* source;
};

// Published examples of panel widths. C: confirmed as published; rule: the published rule applied. For the
// tucked panel of a letter fold guides give from 1/32 to 1/8 in, and 2 to 3 mm: 1/16 in and 3 mm are taken,
// because the examples worked to the end have them.
TEST(Panels, AgreeWithPublishedExamples) {
  const std::array rows{
      PanelRow{11, Unit::inch, fold(FoldKind::letter), {3.6875, 3.6875, 3.625}, "four folding guides, C"},
      PanelRow{14, Unit::inch, fold(FoldKind::letter), {4.6875, 4.6875, 4.625}, "same rule, C"},
      PanelRow{17, Unit::inch, fold(FoldKind::letter), {5.6875, 5.6875, 5.625}, "same rule, C"},
      PanelRow{297, Unit::millimetre, fold(FoldKind::letter), {100, 100, 97}, "public design manual, C"},
      PanelRow{297, Unit::millimetre, fold_of(FoldKind::z, 3), {99, 99, 99}, "1/3 A4, C"},
      PanelRow{17, Unit::inch, fold(FoldKind::gate), {4.21875, 8.5625, 4.21875}, "reference article, C"},
      PanelRow{17,
               Unit::inch,
               fold(FoldKind::double_gate),
               {4.21875, 4.28125, 4.28125, 4.21875},
               "reference article, C"},
      PanelRow{17,
               Unit::inch,
               fold(FoldKind::double_parallel),
               {4.28125, 4.28125, 4.21875, 4.21875},
               "three guides and reference article, C"},
      PanelRow{
          17, Unit::inch, fold_of(FoldKind::roll, 4), {4.3125, 4.3125, 4.21875, 4.15625}, "three guides, C"},
      PanelRow{11, Unit::inch, fold(FoldKind::half), {5.5, 5.5}, "equal by definition"},
      PanelRow{11,
               Unit::inch,
               fold_of(FoldKind::roll, 3),
               {3.6875, 3.6875, 3.625},
               "a roll of three is a letter fold"}};
  for (const PanelRow& row : rows) {
    const Panels panels = plan_panels(row.request, {make_length(row.length, row.unit), 100_mm}, row.unit);
    SCOPED_TRACE(row.source);
    expect_near(panels.columns, lengths(row.panels, row.unit));
    EXPECT_EQ(panels.rows, std::vector{100_mm});
  }
}

struct PositionRow {
  double length;
  Unit unit;
  FoldRequest request;
  std::vector<double> inside, outside;
};

// Published fold positions from the left trim: letter fold of 11 in and of A4, 17 in gates and roll (C);
// of the z and the double parallel fold the sums of their published panels. The outside is the inside
// mirrored, W - x.
TEST(Folds, LieWhereTheGuidesSay) {
  const std::array rows{
      PositionRow{11, Unit::inch, fold(FoldKind::letter), {3.6875, 7.375}, {3.625, 7.3125}},
      PositionRow{297, Unit::millimetre, fold(FoldKind::letter), {100, 200}, {97, 197}},
      PositionRow{
          17, Unit::inch, fold(FoldKind::double_gate), {4.21875, 8.5, 12.78125}, {4.21875, 8.5, 12.78125}},
      PositionRow{17, Unit::inch, fold(FoldKind::gate), {4.21875, 12.78125}, {4.21875, 12.78125}},
      PositionRow{297, Unit::millimetre, fold_of(FoldKind::z, 3), {99, 198}, {99, 198}},
      PositionRow{17,
                  Unit::inch,
                  fold(FoldKind::double_parallel),
                  {4.28125, 8.5625, 12.78125},
                  {4.21875, 8.4375, 12.71875}},
      PositionRow{
          17, Unit::inch, fold_of(FoldKind::roll, 4), {4.3125, 8.625, 12.84375}, {4.15625, 8.375, 12.6875}}};
  for (const PositionRow& row : rows) {
    const BothSides sides = folded(row.request, {make_length(row.length, row.unit), 100_mm}, row.unit);
    SCOPED_TRACE(row.length);
    expect_near(sides.inside.folds, lengths(row.inside, row.unit));
    expect_near(sides.outside.folds, lengths(row.outside, row.unit));
    EXPECT_TRUE(sides.inside.folds_y.empty());
  }
}

// 11 in with 1/8 in bleed at 300 ppi (computed, C).
TEST(Folds, LieAtPublishedPixels) {
  const BothSides sides = folded(fold(FoldKind::letter), letter_landscape, Unit::inch);
  const auto pixels = [](Length fold) { return (fold + 0.125_in).pixels(300); };
  EXPECT_NEAR(pixels(sides.inside.folds[0]), 1143.75, 1e-6);
  EXPECT_NEAR(pixels(sides.inside.folds[1]), 2250.0, 1e-6);
  EXPECT_NEAR(pixels(sides.outside.folds[0]), 1125.0, 1e-6);
  EXPECT_NEAR(pixels(sides.outside.folds[1]), 2231.25, 1e-6);
}

// DIN 5008 fold marks from the top: form A 87 and 192 mm, form B 105 and 210 mm (encyclopedia article, C).
TEST(Folds, OfAListLieAtItsSums) {
  FoldRequest request = fold(FoldKind::list);
  const Size a4{210_mm, 297_mm};
  request.panels_y = {87_mm, 105_mm, 105_mm};
  expect_near(folded(request, a4, Unit::millimetre).inside.folds_y, {87_mm, 192_mm});
  request.panels_y = {105_mm, 105_mm, 87_mm};
  const BothSides form_b = folded(request, a4, Unit::millimetre);
  expect_near(form_b.inside.folds_y, {105_mm, 210_mm});
  EXPECT_TRUE(form_b.inside.folds.empty());
  EXPECT_THAT(names(form_b.inside), ElementsAre("inside top", "inside middle", "inside bottom"));
}

TEST(Folds, TurnedHeadToFootKeepXAndMirrorY) {
  FoldRequest request = fold(FoldKind::list);
  request.panels = {100_mm, 197_mm};
  request.panels_y = {50_mm, 160_mm};
  const Size trim{297_mm, 210_mm};
  const BothSides head = folded(request, trim, Unit::millimetre, Turn::head_to_head);
  expect_near(head.outside.folds, {197_mm});
  expect_near(head.outside.folds_y, {50_mm});
  const BothSides foot = folded(request, trim, Unit::millimetre, Turn::head_to_foot);
  expect_near(foot.outside.folds, {100_mm});
  expect_near(foot.outside.folds_y, {160_mm});
  EXPECT_THAT(names(foot.inside), ElementsAre("inside top left", "inside top right", "inside bottom left",
                                              "inside bottom right"));
  EXPECT_EQ(foot.outside.panels[2].area, (Rect{0_mm, 160_mm, 100_mm, 50_mm}));
}

TEST(Compensation, IsLargerForCoverStockAndCanBeSaid) {
  FoldRequest request = fold(FoldKind::letter);
  const Size sheet{11_in, 8.5_in};
  request.stock = Stock::cover;
  // 1/8 in: the largest figure of the guides, for thick stock (P). 11.125 / 3 = 3.7083, up to 3.71875.
  expect_near(plan_panels(request, sheet, Unit::inch).columns,
              lengths({3.71875, 3.71875, 3.5625}, Unit::inch));
  request.shorter = 0.25_in;
  expect_near(plan_panels(request, sheet, Unit::inch).columns, lengths({3.75, 3.75, 3.5}, Unit::inch));
}

TEST(Compensation, LeavesNoPanelOfAnOddSheetWiderThanItsCover) {
  // 17 in in five: the outer two are rounded up to 1/32 in, the rest is shared by the tucked ones.
  const auto panels = plan_panels(fold_of(FoldKind::roll, 5), {17_in, 9_in}, Unit::inch).columns;
  expect_near(panels, lengths({3.53125, 3.53125, 3.40625, 3.3125, 3.21875}, Unit::inch));
}

// No published table has five or six panels. The rule of two binderies' guides is taken (third and each next
// one 3/32 in shorter, 1/8 in on cover stock, the last 1/16; P), because it rebuilds the published 17 in roll
// of four. 29/32 in shorter in all: 17.90625 / 6 = 2.984, up to 3 in; the 3/32 in too much come off the
// tucked ones.
TEST(Compensation, OfLongRollsAndCoverStockIsTheRuleOfTheShortOne) {
  expect_near(plan_panels(fold_of(FoldKind::roll, 6), {17_in, 9_in}, Unit::inch).columns,
              lengths({3, 3, 2.90625, 2.78125, 2.6875, 2.625}, Unit::inch));
  FoldRequest request = fold_of(FoldKind::roll, 4);
  request.stock = Stock::cover;
  expect_near(plan_panels(request, {17_in, 9_in}, Unit::inch).columns,
              lengths({4.34375, 4.34375, 4.1875, 4.125}, Unit::inch));
}

// Between the gates one guide leaves 1/8 in, another 1/4 (P). The first is taken for text stock, because the
// published 17 in gate has it (C), the second for cover stock.
TEST(Compensation, OfAGateLeavesAnEighthOfAnInchOpenOrAQuarter) {
  const auto open = [](Stock stock) {
    FoldRequest request = fold(FoldKind::gate);
    request.stock = stock;
    const auto panels = plan_panels(request, {17_in, 11_in}, Unit::inch).columns;
    return (panels[1] - panels[0] - panels[2]).inches();
  };
  EXPECT_NEAR(open(Stock::text), 0.125, 1e-9);
  EXPECT_NEAR(open(Stock::cover), 0.25, 1e-9);
}

TEST(PanelNames, OfALetterFold) {
  const BothSides right = folded(fold(FoldKind::letter), letter_landscape, Unit::inch);
  EXPECT_THAT(names(right.inside), ElementsAre("inside left", "inside centre", "inside right"));
  EXPECT_THAT(names(right.outside), ElementsAre("tucked panel", "back cover", "front cover"));
  EXPECT_NEAR(right.outside.panels[0].area.width.inches(), 3.625, 1e-9);

  FoldRequest request = fold(FoldKind::letter);
  request.tucked = End::first;
  const BothSides left = folded(request, letter_landscape, Unit::inch);
  expect_near(left.inside.folds, lengths({3.625, 7.3125}, Unit::inch));
  EXPECT_THAT(names(left.outside), ElementsAre("front cover", "back cover", "tucked panel"));
}

TEST(PanelNames, StayWithThePaperWhenALetterFoldIsTurnedHeadToFoot) {
  const BothSides sides = folded(fold(FoldKind::letter), letter_landscape, Unit::inch, Turn::head_to_foot);
  EXPECT_THAT(names(sides.outside), ElementsAre("front cover", "back cover", "tucked panel"));
  EXPECT_NEAR(sides.outside.panels[2].area.width.inches(), 3.625, 1e-9);
}

TEST(PanelNames, OfAllOtherFolds) {
  const auto outside = [](const FoldRequest& request) {
    return names(folded(request, {17_in, 11_in}, Unit::inch).outside);
  };
  const auto inside = [](const FoldRequest& request) {
    return names(folded(request, {17_in, 11_in}, Unit::inch).inside);
  };
  EXPECT_THAT(outside(fold(FoldKind::half)), ElementsAre("back cover", "front cover"));
  EXPECT_THAT(inside(fold(FoldKind::half)), ElementsAre("inside left", "inside right"));
  EXPECT_THAT(outside(fold(FoldKind::gate)),
              ElementsAre("front cover, right half", "back cover", "front cover, left half"));
  EXPECT_THAT(inside(fold(FoldKind::gate)),
              ElementsAre("inside left gate", "inside centre", "inside right gate"));
  EXPECT_THAT(outside(fold(FoldKind::double_gate)),
              ElementsAre("first spread, right", "back cover", "front cover", "first spread, left"));
  EXPECT_THAT(outside(fold(FoldKind::double_parallel)),
              ElementsAre("first spread, left", "first spread, right", "back cover", "front cover"));
  EXPECT_THAT(outside(fold_of(FoldKind::roll, 4)),
              ElementsAre("tucked panel 2", "tucked panel 1", "back cover", "front cover"));
  EXPECT_THAT(outside(fold(FoldKind::cross)),
              ElementsAre("first spread, right", "first spread, left", "back cover", "front cover"));
  EXPECT_THAT(inside(fold(FoldKind::cross)), ElementsAre("inside top left", "inside top right",
                                                         "inside bottom left", "inside bottom right"));
}

TEST(PanelNames, OfAZFoldPutTheBackCoverAtTheFarEnd) {
  const Size a4{297_mm, 210_mm};
  const BothSides three = folded(fold_of(FoldKind::z, 3), a4, Unit::millimetre);
  EXPECT_THAT(names(three.inside), ElementsAre("inside left", "inside centre", "back cover"));
  EXPECT_THAT(names(three.outside), ElementsAre("outside left", "outside centre", "front cover"));
  const BothSides foot = folded(fold_of(FoldKind::z, 3), a4, Unit::millimetre, Turn::head_to_foot);
  EXPECT_THAT(names(foot.inside), ElementsAre("back cover", "inside centre", "inside right"));
  const BothSides four = folded(fold_of(FoldKind::z, 4), a4, Unit::millimetre);
  EXPECT_THAT(names(four.outside),
              ElementsAre("back cover", "outside panel 2", "outside panel 3", "front cover"));
}

TEST(PanelNames, OfFoldsAlongYSayTopAndBottom) {
  FoldRequest request = fold(FoldKind::letter);
  request.along = Axis::y;
  const BothSides foot = folded(request, {8.5_in, 11_in}, Unit::inch, Turn::head_to_foot);
  EXPECT_TRUE(foot.inside.folds.empty());
  expect_near(foot.inside.folds_y, lengths({3.6875, 7.375}, Unit::inch));
  expect_near(foot.outside.folds_y, lengths({3.625, 7.3125}, Unit::inch));
  EXPECT_THAT(names(foot.inside), ElementsAre("inside top", "inside middle", "inside bottom"));
  EXPECT_THAT(names(foot.outside), ElementsAre("tucked panel", "back cover", "front cover"));
  const BothSides head = folded(request, {8.5_in, 11_in}, Unit::inch, Turn::head_to_head);
  EXPECT_THAT(names(head.outside), ElementsAre("front cover", "back cover", "tucked panel"));
}

TEST(PanelNames, OfFlatWorkAreOne) {
  const BothSides flat = lay_out_flat({210_mm, 297_mm});
  EXPECT_THAT(names(flat.inside), ElementsAre("page"));
  EXPECT_EQ(flat.outside.panels[0].area, (Rect{0_mm, 0_mm, 210_mm, 297_mm}));
  EXPECT_TRUE(flat.inside.folds.empty() && flat.inside.folds_y.empty());
}

FoldRequest list(FoldKind kind, std::initializer_list<double> panels, Unit unit) {
  FoldRequest request = fold(kind);
  request.panels = lengths(panels, unit);
  return request;
}

struct BadRow {
  FoldRequest request;
  double length;
  Unit unit;
  const char *what, *right;
};

TEST(Panels, ThatCannotBeAreRefusedWithTheRightNumbers) {
  const std::array rows{
      BadRow{list(FoldKind::list, {3.6875, 3.6875, 3.6875}, Unit::inch), 11, Unit::inch,
             "add up to 11.0625 in, 0.0625 in more than the trim width of 11 in",
             "right would be 3.6875, 3.6875, 3.625 in"},
      BadRow{list(FoldKind::letter, {99, 99, 98.98}, Unit::millimetre), 297, Unit::millimetre,
             "add up to 296.98 mm, 0.02 mm less", "right would be 100, 100, 97 mm"},
      BadRow{list(FoldKind::letter, {99, 99, 99}, Unit::millimetre), 297, Unit::millimetre,
             "equal panels (99 mm) do not fold as a letter fold", "right would be 100, 100, 97 mm"},
      BadRow{list(FoldKind::letter, {98, 98, 101}, Unit::millimetre), 297, Unit::millimetre,
             "tucked panel (101 mm) is wider than the one it goes into (98 mm)", "100, 100, 97 mm"},
      BadRow{list(FoldKind::roll, {4.25, 4.25, 4.25, 4.25}, Unit::inch), 17, Unit::inch,
             "equal panels (4.25 in) do not fold as a roll fold",
             "right would be 4.3125, 4.3125, 4.21875, 4.15625 in"},
      BadRow{list(FoldKind::double_gate, {4.3, 4.2, 4.2, 4.3}, Unit::inch), 17, Unit::inch, "is wider than",
             "4.21875, 4.28125, 4.28125, 4.21875 in"},
      BadRow{list(FoldKind::double_parallel, {4.25, 4.25, 4.25, 4.25}, Unit::inch), 17, Unit::inch,
             "equal panels", "4.28125, 4.28125, 4.21875, 4.21875 in"},
      BadRow{list(FoldKind::gate, {4.3, 8.4, 4.3}, Unit::inch), 17, Unit::inch,
             "8.6 in together, are wider than the 8.4 in between them", "4.21875, 8.5625, 4.21875 in"},
      BadRow{list(FoldKind::half, {3, 4, 4}, Unit::inch), 11, Unit::inch,
             "3 panels are given; a half fold has 2", "right would be 5.5, 5.5 in"},
      BadRow{list(FoldKind::roll, {5, 6}, Unit::inch), 11, Unit::inch, "a roll fold has 3 or more", ""}};
  for (const BadRow& row : rows)
    EXPECT_THAT(
        [&] {
          plan_panels(row.request, {make_length(row.length, row.unit), 100_mm}, row.unit);
        },
        ThrowsMessage<Error>(AllOf(HasSubstr(row.what), HasSubstr(row.right))))
        << row.what;
}

TEST(Panels, TuckedAtTheLeftAreCheckedFromTheRight) {
  FoldRequest request = list(FoldKind::letter, {100, 100, 97}, Unit::millimetre);
  EXPECT_NO_THROW(plan_panels(request, {297_mm, 210_mm}, Unit::millimetre));
  request.tucked = End::first;
  EXPECT_THAT(
      [&] {
        plan_panels(request, {297_mm, 210_mm}, Unit::millimetre);
      },
      ThrowsMessage<Error>(
          HasSubstr("right would be 97, 100, 100 mm; or say \"tucked\": \"right\", if that end goes in")));
}

TEST(Panels, WithinAHundredthOfAMillimetreAreTakenAndFitExactly) {
  const auto panels = plan_panels(list(FoldKind::list, {99.0, 99.0, 98.992}, Unit::millimetre),
                                  {297_mm, 210_mm}, Unit::millimetre);
  EXPECT_NEAR((panels.columns[0] + panels.columns[1] + panels.columns[2]).mm(), 297.0, 1e-9);
}

TEST(Panels, AreListedAlongTheAxisOfTheFold) {
  FoldRequest request = fold(FoldKind::letter);
  request.panels_y = {70_mm, 70_mm, 70_mm};
  EXPECT_THAT(
      [&] {
        plan_panels(request, {297_mm, 210_mm}, Unit::millimetre);
      },
      ThrowsMessage<Error>(HasSubstr("list them as \"panels\"")));
}

TEST(Panels, NeedASheetThatIsLongEnough) {
  EXPECT_THAT(
      [] {
        plan_panels(fold_of(FoldKind::roll, 12), {30_mm, 210_mm}, Unit::millimetre);
      },
      ThrowsMessage<Error>(HasSubstr("a sheet of 30 mm is too short for a roll fold of 12 panels")));
}

TEST(FoldNames, ReadBackAndKnowOtherNames) {
  for (const FoldKind kind :
       {FoldKind::none, FoldKind::half, FoldKind::letter, FoldKind::z, FoldKind::gate, FoldKind::double_gate,
        FoldKind::roll, FoldKind::double_parallel, FoldKind::cross})
    EXPECT_EQ(find_fold(fold_name(kind)), kind);
  EXPECT_EQ(find_fold("tri-fold"), FoldKind::letter);
  EXPECT_EQ(find_fold("accordion"), FoldKind::z);
  EXPECT_EQ(find_fold("french"), FoldKind::cross);
  EXPECT_FALSE(find_fold("list") || find_fold("") || find_fold("Letter"));
}

}  // namespace
}  // namespace frisket
