// Published layouts that follow from fold positions: text columns beside folds, folds given as free lists.
#include <gtest/gtest.h>

#include <array>

#include "frisket/job.hpp"
#include "job/limit_table.hpp"

namespace frisket {
namespace {

using namespace literals;

Job job_of(std::vector<JobFlag> flags) { return job_from_flags(flags, test_limits); }

/// Left and right of the live area in every panel.
std::vector<Length> text_guides(const Job& job, const SideLayout& side) {
  std::vector<Length> guides;
  for (const Panel& panel : side.panels) {
    const Rect live = live_area(job, side, panel);
    guides.insert(guides.end(), {live.left(), live.right()});
  }
  return guides;
}

void expect_inches(const std::vector<Length>& lengths, std::initializer_list<double> inches) {
  ASSERT_EQ(lengths.size(), inches.size());
  std::size_t at = 0;
  for (const double expected : inches) EXPECT_NEAR(lengths[at++].inches(), expected, 1e-9) << at;
}

// 11 in letter fold with 1/4 in outer margin and 1/8 in each side of the folds (reference article, C).
TEST(LetterFold, HasThePublishedTextGuides) {
  const Job job =
      job_of({{"trim", "11x8.5in"}, {"folds", "letter"}, {"safe", "0.25in"}, {"fold_safe", "0.125in"}});
  expect_inches(text_guides(job, job.inside), {0.25, 3.5625, 3.8125, 7.25, 7.5, 10.75});
  expect_inches(text_guides(job, job.outside), {0.25, 3.5, 3.75, 7.1875, 7.4375, 10.75});
}

// A4 letter fold: closed 100 x 210 mm, text columns of 80, 80 and 77 mm with margins of 10 mm (public design
// manual, C).
TEST(LetterFold, OfA4HasThePublishedColumns) {
  const Job job =
      job_of({{"trim", "A4 landscape"}, {"folds", "letter"}, {"safe", "10mm"}, {"fold_safe", "10mm"}});
  EXPECT_NEAR(job.finished.width.mm(), 100, 1e-9);
  EXPECT_NEAR(job.finished.height.mm(), 210, 1e-9);
  const std::array columns{80.0, 80.0, 77.0};
  for (std::size_t i = 0; i < columns.size(); ++i)
    EXPECT_NEAR(live_area(job, job.inside, job.inside.panels[i]).width.mm(), columns[i], 1e-9);
}

// CD booklet: pages of 120.5 x 119.5 mm, nothing within 3 mm of trim or fold (insert maker, worked, C).
TEST(HalfFold, OfACdBookletLeavesThreeMillimetresAllRound) {
  const Job job = job_of({{"trim", "241x119.5mm"}, {"folds", "half"}, {"safe", "3mm"}, {"fold_safe", "3mm"}});
  const Rect right = live_area(job, job.outside, job.outside.panels.at(1));
  EXPECT_NEAR(right.x.mm(), 123.5, 1e-9);
  EXPECT_NEAR(right.y.mm(), 3, 1e-9);
  EXPECT_NEAR(right.width.mm(), 114.5, 1e-9);
  EXPECT_NEAR(right.height.mm(), 113.5, 1e-9);
}

// Text keeps 3/32 in from the edges of the spine (template notes, P); where that is all there is, no text.
TEST(LiveArea, OfASpineKeepsItsOwnDistanceAndMayBeEmpty) {
  Job job = read_job(FRISKET_SOURCE_DIR "/fixtures/tickets/perfect-cover.json", {}, test_limits);
  const Panel spine = job.outside.panels.at(2);
  EXPECT_NEAR(live_area(job, job.outside, spine).width.inches(), 124 * 0.0039 + 0.02 - 2 * 3.0 / 32, 1e-9);
  EXPECT_EQ(clear_of_fold(job, job.outside, 1), 1.5_mm);
  job.outside.own_clear[2] = job.outside.own_clear[3] = spine.area.width / 2.0;
  EXPECT_TRUE(live_area(job, job.outside, spine).empty());
}

// The outside of a letter fold lies off the inside by what the tucked panel is shorter: 1/16 in is 18.75 px
// and 3 mm 35.4 px at 300 ppi (computed, C). A z fold and a half fold are their own mirror.
TEST(Mirror, MovesALetterFoldByWhatItsTuckedPanelIsShorter) {
  const auto moved = [](const char* trim, const char* folds) {
    const Job job = job_of({{"trim", trim}, {"folds", folds}});
    return (job.inside.folds[0] - job.outside.folds[0]).pixels(300);
  };
  EXPECT_NEAR(moved("11x8.5in", "letter"), 18.75, 1e-6);
  EXPECT_NEAR(moved("A4 landscape", "letter"), 35.4, 0.04);
  EXPECT_NEAR(moved("A4 landscape", "z"), 0, 1e-6);
  EXPECT_NEAR(moved("A4 landscape", "half"), 0, 1e-6);
}

// DIN 824, A3 form A: panels of 125, 105 and 190 mm (summary, from memory, M).
TEST(ListedPanels, FoldADrawingForFiling) {
  const Job job = job_of({{"trim", "A3 landscape"}, {"folds", "125,105,190mm"}});
  EXPECT_NEAR(job.inside.folds[1].mm(), 230, 1e-9);
  EXPECT_NEAR(job.outside.folds[0].mm(), 190, 1e-9);
}

// Insert drawing, P: it speaks of eleven panels, the transcript lists these twelve widths.
TEST(ListedPanels, FoldALongInsert) {
  const Job job = job_of(
      {{"trim", "24.125x4in"},
       {"folds", "1, 0.5, 2.5, 2.4375, 2.65625, 2.1875, 2.1875, 2.1875, 2.1875, 2.125, 2.125, 2.03125in"}});
  EXPECT_EQ(job.inside.panels.size(), 12u);
  EXPECT_NEAR(job.inside.folds.back().inches(), 22.09375, 1e-9);
  EXPECT_NEAR(job.outside.folds.front().inches(), 2.03125, 1e-9);
}

// 1/3 A4 leaflet in three: 99 x 210 mm closed (GOST 5773, table 2; C).
TEST(ZFold, OfA4ClosesToAThirdOfIt) {
  const Job job = job_of({{"trim", "A4 landscape"}, {"folds", "z"}});
  EXPECT_NEAR(job.finished.width.mm(), 99, 1e-9);
  EXPECT_NEAR(job.finished.height.mm(), 210, 1e-9);
}

// A4 at 150 ppi: 1240.16 x 1753.94 px (computed, C): as wide as a 1/3 A4 leaflet with 3 mm of bleed at 300.
TEST(Canvas, OfA4AtHalfTheResolutionIsAsWideAsALeafletsAtFull) {
  const Job a4 = job_of({{"trim", "A4"}}), leaflet = job_of({{"trim", "1/3 A4"}, {"bleed", "3mm"}});
  EXPECT_NEAR(a4.trim.width.pixels(150), 1240.16, 0.006);
  EXPECT_NEAR(a4.trim.height.pixels(150), 1753.94, 0.006);
  EXPECT_NEAR((leaflet.trim.width + 6_mm).pixels(300), a4.trim.width.pixels(150), 0.001);
}

struct PixelRow {
  const char *trim, *bleed;
  double width, height;
};

// Pixels of trim with bleed at 300 ppi (computed from the standards' sizes, C).
TEST(Canvas, HasThePublishedPixels) {
  for (const PixelRow& row :
       {PixelRow{"A4", "0", 2480.31, 3507.87}, PixelRow{"A4", "3mm", 2551.18, 3578.74},
        PixelRow{"A5", "0", 1748.03, 2480.31}, PixelRow{"A5", "3mm", 1818.90, 2551.18},
        PixelRow{"1/3 A4", "0", 1169.29, 2480.31}, PixelRow{"1/3 A4", "3mm", 1240.16, 2551.18},
        PixelRow{"A3", "0", 3507.87, 4960.63}, PixelRow{"A3", "3mm", 3578.74, 5031.50},
        PixelRow{"ID-1 landscape", "0", 1011.02, 637.56}, PixelRow{"ID-1 landscape", "3mm", 1081.89, 708.43},
        PixelRow{"letter", "0", 2550, 3300}, PixelRow{"letter", "0.125in", 2625, 3375}}) {
    const Job job = job_of({{"trim", row.trim}, {"bleed", row.bleed}});
    const Rect canvas = grown({{}, {}, job.trim.width, job.trim.height}, job.bleed);
    EXPECT_NEAR(canvas.width.pixels(300), row.width, 0.006) << row.trim;
    EXPECT_NEAR(canvas.height.pixels(300), row.height, 0.006) << row.trim;
  }
}

}  // namespace
}  // namespace frisket
