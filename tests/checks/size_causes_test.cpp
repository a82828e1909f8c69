// Why a page has the wrong size: every cause, by the numbers alone.
#include "checks/size_causes.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "frisket/check.hpp"
#include "frisket/sizes.hpp"
#include "job/size_table.hpp"

namespace frisket {
namespace {

using testing::HasSubstr;
using testing::Not;

/// The pixels of a size in mm at `dpi`, as a renderer would round them.
FileCanvas canvas_of(double width_mm, double height_mm, double dpi = 300) {
  return {static_cast<int>(std::lround(width_mm / 25.4 * dpi)),
          static_cast<int>(std::lround(height_mm / 25.4 * dpi)), dpi, std::nullopt};
}

Job job_of(std::vector<JobFlag> flags) { return job_from_flags(flags, all_limits()); }

Job a4() { return job_of({{"trim", "A4"}, {"bleed", "3mm"}}); }
Job leaflet() { return job_of({{"trim", "11x8.5in"}, {"bleed", "0.125in"}, {"folds", "letter"}}); }
Job ticket(const char* name) {
  return read_job(std::string(FRISKET_SOURCE_DIR "/fixtures/tickets/") + name, {}, all_limits());
}
constexpr double in = 25.4;

std::string told(const std::optional<SizeCause>& cause) {
  return cause ? cause->what + " | " + cause->advice : "";
}

struct CauseRow {
  const char* title;
  Job job;
  FileCanvas canvas;
  const char *what, *advice;
};

// The sizes are those of ISO 216, ASME Y14.1 and PWG 5101.1; what is made of them is our own reckoning.
TEST(SizeCause, NamesEachCauseWithItsNumbersAndTheRemedy) {
  const std::vector<CauseRow> rows{
      {"turned with bleed", leaflet(), canvas_of(8.75 * in, 11.25 * in),
       "It is right when turned by 90 degrees.", "Turn the page"},
      {"turned without", a4(), canvas_of(297, 210), "turned by 90 degrees", "Turn the page"},
      {"at half the resolution",
       leaflet(),
       {1688, 1313, 300, {}},
       "It is right at 150 dpi.",
       "Export it again at 300 dpi"},
      {"at a screen's resolution", a4(), canvas_of(216 * 0.24, 303 * 0.24), "It is right at 72 dpi.",
       "inspect it with --dpi 72"},
      {"in a file that says too little", a4(), canvas_of(216 * 300 / 72.0, 303 * 300 / 72.0, 72),
       "It is right at 300 dpi.", "Inspect it with --dpi 300, and give the file that resolution"},
      {"as the file says",
       a4(),
       {1276, 1789, 300, 150},
       "right at 150 dpi, as the file itself says",
       "--dpi 150"},
      {"bleed on two edges", a4(), canvas_of(216, 297), "Its bleed is missing at top and bottom.",
       "bleed on every edge"},
      {"bleed on three edges, as in a spread", a4(), canvas_of(213, 303), "missing at one of left and right.",
       "bleed on every edge"},
      {"bleed on one edge", a4(), canvas_of(213, 297),
       "missing at one of left and right, and at top and bottom.", "bleed on every edge"},
      {"less bleed", a4(), canvas_of(214, 301), "It is the trim with 2.01 mm round it.", "Set the bleed"},
      {"inches for centimetres", leaflet(), canvas_of(110, 85), "inches were taken for centimetres",
       "Set the document to 11 x 8.5 in"},
      {"centimetres for inches", job_of({{"trim", "20x10cm"}, {"bleed", "0"}}),
       canvas_of(20 * in, 10 * in, 100), "centimetres were taken for inches", "20 x 10 cm"},
      {"millimetres for points, with the bleed right", a4(),
       canvas_of(210 / 72.0 * in + 6, 297 / 72.0 * in + 6), "millimetres were taken for points",
       "210 x 297 mm"},
      {"points for millimetres", job_of({{"trim", "595x842pt"}, {"bleed", "0"}}), canvas_of(595, 842, 72),
       "points were taken for millimetres", "595 x 842 pt"},
      {"one panel", leaflet(), canvas_of(3.6875 * in, 8.5 * in),
       "It is one page of the finished size, 3.6875 x 8.5 in.", "Lay the whole sheet out flat, 11 x 8.5 in"},
      {"one page of a book's cover", ticket("perfect-cover.json"), canvas_of(6.25 * in, 9.25 * in),
       "one page of the finished size, 6 x 9 in", "12.5036 x 9 in"},
      {"three panels as wide as the cover", leaflet(), canvas_of(11.3125 * in, 8.75 * in),
       "It is 3 equal panels of 3.6875 in; this job's panels are 3.6875, 3.6875, 3.625 in.",
       "put the folds where frisket plan says"},
      {"four panels", leaflet(), canvas_of(14.75 * in, 8.5 * in), "It is 4 equal panels of 3.6875 in",
       "Set the document to 11 x 8.5 in"},
      {"no spine", ticket("perfect-cover.json"), canvas_of(12.25 * in, 9.25 * in),
       "It is the cover without its spine; this job's spine is 0.5036 in.", "pages and paper"},
      {"another spine", ticket("perfect-cover.json"), canvas_of(13.05 * in, 9.25 * in),
       "the cover with a spine of 0.8 in; this job's spine is 0.5036 in", "pages and paper"},
      {"A5 under A4", a4(), canvas_of(148, 210), "It is A5 portrait.", "Set the document to 210 x 297 mm"},
      {"letter under A4, lying", a4(), canvas_of(279.4, 215.9), "It is letter landscape.",
       "correct the trim"},
      {"A5 with bleed under A4", a4(), canvas_of(154, 216), "It is A5 portrait with this job's bleed.",
       "Set the document"},
      {"JIS B5 under A4", a4(), canvas_of(182, 257), "It is JIS B5 portrait.", "Set the document"},
      {"DL envelope", a4(), canvas_of(110, 220), "It is DL portrait.", "Set the document"},
      {"a card", a4(), canvas_of(85, 55), "It is business card EU landscape.", "Set the document"},
      {"short in height", leaflet(), canvas_of(11.25 * in, 8.25 * in),
       "Its width is right, its height is 0.5 in too little.", "Set the document to 11 x 8.5 in."},
      {"wide", a4(), canvas_of(222, 303), "Its height is right, its width is 6.0 mm too much.",
       "Set the document"},
      {"a little smaller", a4(), canvas_of(216 * 0.97, 303 * 0.97), "It is scaled to 97 %.",
       "Export it again at 100 %."},
      {"fitted to paper", leaflet(), canvas_of(285.75 * 0.943, 222.25 * 0.943), "It is scaled to 94.3 %.",
       "at 100 %"},
      {"the trim scaled", a4(), canvas_of(210 * 0.9, 297 * 0.9),
       "It is scaled to 90 % of the trim, without bleed.", "at 100 %"},
      {"turned and at another resolution", leaflet(), canvas_of(8.75 * in / 2, 11.25 * in / 2),
       "It lies turned by 90 degrees. It is right at 150 dpi.", "Turn it. Export"},
      {"turned and scaled", a4(), canvas_of(303 * 0.97, 216 * 0.97),
       "It lies turned by 90 degrees. It is scaled to 97 %.", "Turn it."},
      {"a name nobody knows", a4(), canvas_of(9 * in, 11 * in), "It is na_9x11_9x11in portrait.",
       "Set the document"}};
  for (const CauseRow& row : rows) {
    SCOPED_TRACE(row.title);
    const std::string text = told(size_cause(row.canvas, row.job));
    EXPECT_THAT(text, HasSubstr(row.what));
    EXPECT_THAT(text, HasSubstr(row.advice));
  }
}

TEST(LargerCanvas, IsToldWhereItIsExactlyAnotherThing) {
  EXPECT_THAT(told(larger_canvas_cause(canvas_of(297, 420), a4())), HasSubstr("It is A3 portrait."));
  EXPECT_THAT(told(larger_canvas_cause(canvas_of(222, 309), a4())), HasSubstr("It has its bleed twice."));
  EXPECT_THAT(told(larger_canvas_cause(canvas_of(432, 606), a4())), HasSubstr("It is right at 600 dpi."));
  EXPECT_THAT(told(larger_canvas_cause(canvas_of(222.48, 312.09), a4())), HasSubstr("scaled to 103 %"));
  EXPECT_THAT(told(larger_canvas_cause(canvas_of(440, 303), a4())), HasSubstr("Its height is right"));
}

TEST(LargerCanvas, WithAMarginForMarksIsNoFault) {
  for (const double margin : {5.0, 7.0, 10.0, 15.0, 21.0})
    EXPECT_EQ(told(larger_canvas_cause(canvas_of(216 + 2 * margin, 303 + 2 * margin), a4())), "") << margin;
  const Job square = job_of({{"trim", "120x118mm"}, {"bleed", "3mm"}});
  EXPECT_EQ(told(larger_canvas_cause(canvas_of(140, 138), square)), "");
}

// Half an A4 page is as wide as a 1/3 A4 leaflet with its bleed, and no higher than that makes it.
TEST(SizeCause, IsNotToldByOneSideAlone) {
  const Job leaflet = job_of({{"trim", "1/3 A4"}, {"bleed", "3mm"}});
  EXPECT_THAT(told(size_cause({1240, 1754, 300, {}}, leaflet)), Not(HasSubstr("150 dpi")));
}

TEST(SizeCause, IsUnknownWhereNothingFits) {
  EXPECT_EQ(told(size_cause(canvas_of(133.3, 244.4), a4())), "");
  EXPECT_EQ(told(size_cause({1, 1, 300, {}}, a4())), "");
  EXPECT_EQ(told(size_cause({1, 5000, 300, {}}, leaflet())), "");
}

// Every size that people name: ISO A, B, C, JIS B, RA, SRA, ANSI, Arch, envelopes and cards.
TEST(SizeCause, KnowsEverySizeThatPeopleName) {
  const Job job = job_of({{"trim", "347x123.4mm"}, {"bleed", "3mm"}});
  int names = 0;
  for (const TableSize& known : size_table()) {
    const NamedSize& named = known.named;
    if (named.name.find('_') != std::string::npos) continue;
    const FileCanvas upright = canvas_of(named.size.width.mm(), named.size.height.mm());
    const std::string text = told(size_cause(upright, job));
    const auto same = match_named_sizes(upright.size(), Length::from_mm(0.1));
    ASSERT_FALSE(same.empty());
    EXPECT_THAT(text, HasSubstr("It is " + same.front().named.name)) << named.name;
    ++names;
  }
  EXPECT_GT(names, 70);
}

// Almost any size is near one of the hundreds in PWG 5101.1; a page exported at so many per cent is not one.
TEST(SizeCause, OfAScaledPageIsNeverAnOddName) {
  int scaled = 0;
  for (int percent = 21; percent < 400; ++percent) {
    const double share = percent / 100.0;
    const std::string text = told(size_cause(canvas_of(216 * share, 303 * share), a4()));
    EXPECT_THAT(text, Not(HasSubstr("_"))) << percent;
    if (text.find("scaled to " + std::to_string(percent) + " %") != std::string::npos) ++scaled;
  }
  EXPECT_GT(scaled, 350) << "the others are right at a usual resolution, or have a name";
}

}  // namespace
}  // namespace frisket
