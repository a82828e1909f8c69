#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>
#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "frisket/error.hpp"
#include "frisket/job.hpp"
#include "job/limit_table.hpp"
#include "scratch_folder.hpp"

namespace frisket {
namespace {

namespace fs = std::filesystem;
using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::StartsWith;
using testing::ThrowsMessage;
using namespace literals;

const fs::path tickets = fs::path(FRISKET_SOURCE_DIR) / "fixtures" / "tickets";

Job read(const fs::path& file, std::vector<JobFlag> flags = {}) { return read_job(file, flags, test_limits); }
Job from_flags(std::vector<JobFlag> flags) { return job_from_flags(flags, test_limits); }

/// A folder for the tickets a test writes itself, gone when the test is over.
class Tickets : public testing::Test {
 protected:
  fs::path write(const std::string& name, const std::string& text) {
    std::ofstream(folder_ / name, std::ios::binary) << text;
    return folder_ / name;
  }
  /// A ticket of A4 with more members.
  fs::path write(const std::string& members) {
    return write("ticket.json",
                 R"({"frisket_ticket": 1, "trim": "A4")" + (members.empty() ? "" : ", " + members) + "}");
  }
  Job read_members(const std::string& members) { return read(write(members)); }

  ScratchFolder folder_;
};

Length length_of(const Job& job, std::string_view key) {
  return std::get<Length>(job.limits.all().find(key)->second.value);
}
double ppi_of(const Job& job, std::string_view key) {
  return std::get<double>(job.limits.all().find(key)->second.value);
}
LimitSource source_of(const Job& job, std::string_view key) {
  return job.limits.all().find(key)->second.from;
}

TEST(Ticket, OfTheLeafletGivesTheWholeJob) {
  const Job job = read(tickets / "letter-leaflet.json");
  EXPECT_EQ(job.name, "Harbour walks leaflet");
  EXPECT_EQ(job.unit, Unit::inch);
  EXPECT_EQ(job.trim, (Size{11_in, 8.5_in}));
  EXPECT_NEAR(job.finished.width.inches(), 3.6875, 1e-9);
  EXPECT_EQ(job.finished.height, 8.5_in);
  EXPECT_EQ(job.bleed, Edges::all(0.125_in));
  EXPECT_EQ(job.safe, Edges::all(0.25_in));
  EXPECT_TRUE(job.folded);
  EXPECT_FALSE(job.spine);
  EXPECT_EQ(job.dpi, 300.0);
  ASSERT_EQ(job.inside.folds.size(), 2u);
  EXPECT_NEAR(job.inside.folds[0].inches(), 3.6875, 1e-9);
  EXPECT_NEAR(job.outside.folds[0].inches(), 3.625, 1e-9);
  EXPECT_EQ(job.outside.panels[2].name, "front cover");
  EXPECT_EQ(&job.layout(Side::inside), &job.inside);
  ASSERT_EQ(job.pages.size(), 2u);
  EXPECT_EQ(job.pages[1].file, "inside.png");
  EXPECT_EQ(job.pages[1].side, Side::inside);
}

TEST(Ticket, SaysWhereEachLimitCameFrom) {
  const Job job = read(tickets / "letter-leaflet.json", {{"fold_tolerance", "1mm"}});
  EXPECT_EQ(source_of(job, "bleed"), LimitSource::printer);
  EXPECT_EQ(source_of(job, "safe"), LimitSource::ticket);
  EXPECT_EQ(source_of(job, "fold_tolerance"), LimitSource::flag);
  EXPECT_EQ(length_of(job, "fold_safe"), 3.175_mm);  // a bare number in the printer's unit, mm
  EXPECT_EQ(ppi_of(job, "resolution.least"), 240.0);
  EXPECT_EQ(source_of(job, "resolution.least"), LimitSource::printer);
  const Job plain = read(tickets / "smallest.json");
  for (const auto& [key, limit] : plain.limits.all()) EXPECT_EQ(limit.from, LimitSource::standard) << key;
}

TEST(Ticket, NeedsOnlyASize) {
  const Job job = read(tickets / "smallest.json");
  EXPECT_EQ(job.trim, (Size{210_mm, 297_mm}));
  EXPECT_EQ(job.finished, job.trim);
  EXPECT_EQ(job.bleed, Edges::all(3_mm));
  EXPECT_EQ(job.safe, Edges::all(3_mm));
  EXPECT_FALSE(job.folded || job.dpi || job.spine);
  ASSERT_EQ(job.outside.panels.size(), 1u);
  EXPECT_EQ(job.outside.panels[0].area, (Rect{0_mm, 0_mm, 210_mm, 297_mm}));
  EXPECT_TRUE(job.pages.empty() && job.name.empty());
}

TEST(Ticket, MayGiveEachEdgeItsOwn) {
  const Job job = read(tickets / "every-edge.json");
  EXPECT_EQ(job.bleed, (Edges{3_mm, 3_mm, 3_mm, 0_mm}));
  EXPECT_EQ(job.safe.left, 12_pt);
  EXPECT_FALSE(job.pages.at(0).side);
}

TEST(Ticket, WorksResolutionOutFromScreenOrDistance) {
  // 85 lpi x 2 = 170 ppi: newspaper specification (C). 1 m: 87 ppi, one arcminute (computed, C).
  const Job newspaper = read(tickets / "newspaper-screen.json");
  EXPECT_EQ(ppi_of(newspaper, "resolution.wanted"), 170.0);
  EXPECT_EQ(ppi_of(newspaper, "resolution.least"), 127.5);
  EXPECT_EQ(source_of(newspaper, "resolution.least"), LimitSource::ticket);
  const Job poster = read(tickets / "poster-by-distance.json");
  EXPECT_NEAR(ppi_of(poster, "resolution.wanted"), 87.3, 0.05);
  EXPECT_NEAR(ppi_of(poster, "resolution.least"), 65.5, 0.05);
}

// 600 to 1200 ppi for line art: common practice, no source.
TEST_F(Tickets, LineArtHasALimitOfItsOwn) {
  const auto line_art = [&](const std::string& members) {
    return ppi_of(read_members("\"resolution\": {" + members + "}"), "resolution.line_art");
  };
  EXPECT_EQ(line_art(R"("wanted": 200)"), 600.0);
  EXPECT_EQ(line_art(R"("wanted": 200, "line_art": 1200)"), 1200.0);
  EXPECT_EQ(line_art(R"("screen": 85, "line_art": 800)"), 800.0);
  EXPECT_NEAR(line_art(R"("viewing_distance": "1 m")"), 2 * 87.3, 0.1) << "from afar less will do";
  EXPECT_EQ(line_art(R"("viewing_distance": "1 m", "line_art": 300)"), 300.0);
}

struct DistanceRow {
  const char* distance;
  double ppi;
};

// ppi = 3438 / d(in): four derivations agree; computed values, C.
TEST_F(Tickets, AgreeWithPublishedViewingDistances) {
  const std::array rows{DistanceRow{"10 in", 344}, DistanceRow{"12in", 286},  DistanceRow{"16in", 215},
                        DistanceRow{"24in", 143},  DistanceRow{"36in", 95},   DistanceRow{"30 cm", 291},
                        DistanceRow{"50cm", 175},  DistanceRow{"1m", 87},     DistanceRow{"3 m", 29},
                        DistanceRow{"120in", 29},  DistanceRow{"1000 mm", 87}};
  for (const DistanceRow& row : rows) {
    const Job job =
        read_members(R"("resolution": {"viewing_distance": ")" + std::string(row.distance) + "\"}");
    EXPECT_NEAR(ppi_of(job, "resolution.wanted"), row.ppi, 0.6) << row.distance;
  }
}

// Rulings: 133 x 2 = 266, 133 x 1.41 = 188, 133 x 1.5 = 199.5, 175 x 2 = 350 (manuals, newspaper spec, C);
// 60 L/cm = 152.4 lpi, x 2 = 304.8 (teaching sheet, C).
TEST_F(Tickets, AgreeWithPublishedScreenRulings) {
  const auto wanted = [&](const std::string& members) {
    return ppi_of(read_members("\"resolution\": {" + members + "}"), "resolution.wanted");
  };
  EXPECT_NEAR(wanted(R"("screen": 133)"), 266, 1e-9);
  EXPECT_NEAR(wanted(R"("screen": 133, "quality": 1.41)"), 188, 0.5);
  EXPECT_NEAR(wanted(R"("screen": 133, "quality": 1.5)"), 199.5, 1e-9);
  EXPECT_NEAR(wanted(R"("screen": 175, "quality": 2)"), 350, 1e-9);
  EXPECT_NEAR(wanted(R"("screen": 152.4)"), 304.8, 1e-9);
}

TEST_F(Tickets, LetADefaultResolutionGiveWay) {
  EXPECT_EQ(ppi_of(read_members(R"("resolution": {"wanted": 200})"), "resolution.least"), 150.0);
  EXPECT_EQ(ppi_of(read_members(R"("resolution": {"wanted": 400})"), "resolution.least"), 225.0);
  EXPECT_EQ(ppi_of(read_members(R"("resolution": {"least": 350})"), "resolution.wanted"), 350.0);
}

TEST_F(Tickets, TakeTheUnitOfTheTrimWhereNoneIsSaid) {
  const auto job_of = [&](const std::string& members) {
    return read(write("t.json", "{\"frisket_ticket\": 1, \"bleed\": 0.125, " + members + "}"));
  };
  EXPECT_EQ(job_of(R"("trim": "11x8.5in")").unit, Unit::inch);
  EXPECT_EQ(job_of(R"("trim": "11x8.5in")").bleed, Edges::all(0.125_in));
  EXPECT_EQ(job_of(R"("trim": ["27.94cm", "21.59cm"])").unit, Unit::centimetre);
  EXPECT_EQ(job_of(R"("trim": "letter landscape")").unit, Unit::inch);
  EXPECT_EQ(job_of(R"("trim": "na_letter_8.5x11in")").unit, Unit::inch);
  EXPECT_EQ(job_of(R"("trim": "A4 landscape")").unit, Unit::millimetre);
  EXPECT_EQ(job_of(R"("trim": [279.4, 215.9])").unit, Unit::millimetre);
  EXPECT_EQ(job_of(R"("trim": "11x8.5in", "unit": "mm")").bleed, Edges::all(0.125_mm));
}

TEST_F(Tickets, ReadEveryWayToWriteASize) {
  const Size letter{11_in, 8.5_in};
  for (const char* trim :
       {R"([279.4, 215.9])", R"(["11in", "8.5in"])", R"("11x8.5in")", R"("11 x 8.5 in")", R"("11in x 8.5in")",
        R"("11inx8.5")", R"("279.4x215.9mm")", R"("279.4x215.9")", R"("11in × 215.9mm")", R"("792x612pt")",
        R"("27.94X21.59cm")", R"("letter landscape")"}) {
    const Job job = read(write("t.json", "{\"frisket_ticket\": 1, \"trim\": " + std::string(trim) + "}"));
    EXPECT_NEAR(job.trim.width.mm(), letter.width.mm(), 1e-9) << trim;
    EXPECT_NEAR(job.trim.height.mm(), letter.height.mm(), 1e-9) << trim;
  }
}

TEST_F(Tickets, SayWhetherMarksAreLookedFor) {
  const auto marks = [this](const std::string& entry, std::vector<JobFlag> flags = {}) {
    return read(write("t.json", "{\"frisket_ticket\": 1, \"trim\": [100, 100]" + entry + "}"), flags).marks;
  };
  EXPECT_EQ(marks(""), std::nullopt);
  EXPECT_EQ(marks(", \"marks\": true"), true);
  EXPECT_EQ(marks(", \"marks\": false"), false);
  EXPECT_EQ(marks(", \"marks\": false", {{"marks", "yes"}}), true);
  EXPECT_EQ(marks("", {{"marks", "no"}}), false);
}

TEST(Flags, OverrideTheTicket) {
  const Job job = read(tickets / "letter-leaflet.json", {{"safe", "9pt"},
                                                         {"folds", "z"},
                                                         {"dpi", "150"},
                                                         {"turn", "head-to-foot"},
                                                         {"resolution.least", "200"},
                                                         {"bleed", "0.25"}});
  EXPECT_EQ(job.safe, Edges::all(9_pt));
  EXPECT_EQ(job.bleed, Edges::all(0.25_in));  // the ticket's unit
  EXPECT_EQ(job.dpi, 150.0);
  EXPECT_NEAR(job.inside.folds.at(0).inches(), 11.0 / 3.0, 1e-9);
  EXPECT_EQ(job.inside.panels[0].name, "back cover");
  EXPECT_EQ(ppi_of(job, "resolution.least"), 200.0);
  EXPECT_EQ(ppi_of(job, "resolution.wanted"), 300.0);
  EXPECT_EQ(source_of(job, "bleed"), LimitSource::flag);
  EXPECT_FALSE(read(tickets / "letter-leaflet.json", {{"folds", "none"}}).folded);
}

TEST(Flags, DoNotChangeTheUnitOfTheTicketsNumbers) {
  const Job job = read(tickets / "letter-leaflet.json", {{"unit", "mm"}, {"bleed", "3"}});
  EXPECT_EQ(job.unit, Unit::millimetre);
  EXPECT_EQ(job.trim.width, 11_in);
  EXPECT_EQ(job.safe, Edges::all(0.25_in));
  EXPECT_EQ(job.bleed, Edges::all(3_mm));
}

TEST(Flags, MakeAJobAlone) {
  const Job job =
      from_flags({{"trim", "11x8.5in"}, {"bleed", "0.125in"}, {"safe", "0.25"}, {"folds", "letter"}});
  EXPECT_EQ(job.unit, Unit::inch);
  EXPECT_EQ(job.trim, (Size{11_in, 8.5_in}));
  EXPECT_EQ(job.bleed, Edges::all(0.125_in));
  EXPECT_EQ(job.safe, Edges::all(0.25_in));
  EXPECT_NEAR(job.outside.folds.at(1).inches(), 7.3125, 1e-9);
  EXPECT_EQ(from_flags({{"trim", "A4 landscape"}}).trim, (Size{297_mm, 210_mm}));
  EXPECT_EQ(from_flags({{"trim", "210x297"}}).trim, (Size{210_mm, 297_mm}));
  EXPECT_EQ(from_flags({{"trim", "210x297"}, {"unit", "pt"}}).trim, (Size{210_pt, 297_pt}));
}

TEST(Flags, TakeAListOfPanels) {
  for (const char* folds : {"3.6875,3.6875,3.625in", "3.6875in, 3.6875in, 3.625in", "3.6875,3.6875,3.625"}) {
    const Job job = from_flags({{"trim", "11x8.5in"}, {"folds", folds}});
    EXPECT_NEAR(job.inside.folds.at(1).inches(), 7.375, 1e-9) << folds;
    EXPECT_NEAR(job.outside.folds.at(1).inches(), 7.3125, 1e-9) << folds;
  }
}

struct BadFlagRow {
  std::vector<JobFlag> flags;
  const char* message;
};

TEST(Flags, ThatAreWrongAreNamed) {
  const std::array rows{
      BadFlagRow{{}, "the page size is missing; give --trim 11x8.5in, or a ticket"},
      BadFlagRow{{{"trim", "A44"}}, "--trim is \"A44\"; expected two lengths like 11x8.5in"},
      BadFlagRow{{{"trim", "11x"}}, "--trim: '' is not a length"},
      BadFlagRow{{{"trim", "-11x8.5in"}}, "--trim is \"-11x8.5in\"; expected two sides from"},
      BadFlagRow{{{"trim", "11x8.5in"}, {"bleed", "-1mm"}},
                 "--bleed is \"-1mm\"; expected a length from 0 in"},
      BadFlagRow{{{"trim", "11x8.5in"}, {"safe", ""}}, "--safe is \"\"; expected a length"},
      BadFlagRow{{{"trim", "11x8.5in"}, {"dpi", "nan"}},
                 "--dpi is \"nan\"; expected a number from 10 to 10000"},
      BadFlagRow{{{"trim", "11x8.5in"}, {"marks", "true"}}, "--marks is \"true\"; expected one of yes, no"},
      BadFlagRow{{{"trim", "11x8.5in"}, {"dpi", "300dpi"}}, "--dpi is \"300dpi\"; expected a number"},
      BadFlagRow{{{"trim", "11x8.5in"}, {"folds", "3,3,3in"}},
                 "--fold: the panels 3, 3, 3 in add up to 9 in, 2 in less"},
      BadFlagRow{{{"trim", "11x8.5in"}, {"folds", "3,,3in"}}, "--fold[1] is \"\"; expected a length"},
      BadFlagRow{{{"trim", "11x8.5in"}, {"folds", "triple"}},
                 "--fold is \"triple\"; expected one of none, half"},
      BadFlagRow{{{"trim", "11x8.5in"}, {"unit", "foot"}},
                 "--unit is \"foot\"; expected one of mm, cm, in, pt"},
      BadFlagRow{{{"trim", "11x8.5in"}, {"safe", "5in"}}, "--safe is 5 in at the top, half the trim height"},
      BadFlagRow{{{"trim", "11x8.5in"}, {"blead", "3mm"}},
                 "--blead is not a known setting; did you mean \"bleed\"?"}};
  for (const BadFlagRow& row : rows)
    EXPECT_THAT([&] { from_flags(row.flags); }, ThrowsMessage<Error>(StartsWith(row.message))) << row.message;
}

TEST(GoodTickets, AreAllRead) {
  int read_ones = 0;
  for (const auto& folder : {fs::path(tickets), fs::path(tickets) / "plans"}) {
    for (const auto& entry : fs::directory_iterator(folder)) {
      if (entry.path().extension() != ".json" || entry.path().stem() == "north-quay-press") continue;
      EXPECT_NO_THROW(read(entry.path())) << entry.path();
      ++read_ones;
    }
  }
  EXPECT_GE(read_ones, 20);
}

TEST_F(Tickets, OfAFolderAMissingFileOrALargeOneAreRefused) {
  EXPECT_THAT([&] { read(folder_.path()); }, ThrowsMessage<Error>(HasSubstr("is a folder")));
  EXPECT_THAT([&] { read(folder_ / "none.json"); },
              ThrowsMessage<Error>(HasSubstr("none.json: cannot be opened: No such file")));
  const fs::path large = write("large.json", "{\"name\": \"" + std::string(1'000'000, 'x') + "\"}");
  EXPECT_THAT([&] { read(large); }, ThrowsMessage<Error>(HasSubstr("larger than 1 MB")));
}

TEST_F(Tickets, NestedDeeplyAreRefusedAndNotFollowed) {
  for (const std::size_t levels : {65u, 400'000u}) {
    const std::string arrays = std::string(levels, '[') + std::string(levels, ']');
    EXPECT_THAT([&] { read_members("\"pages\": " + arrays); },
                ThrowsMessage<Error>(HasSubstr("nested deeper than 64 levels")));
  }
  EXPECT_THAT([&] { read_members("\"pages\": " + std::string(60, '[') + std::string(60, ']')); },
              ThrowsMessage<Error>(HasSubstr("\"pages[0]\"")));
}

TEST_F(Tickets, ThatAreNoTextAreRefused) {
  EXPECT_THAT([&] { read(write("t.json", std::string("\x89PNG\r\n\x1a\n", 8))); },
              ThrowsMessage<Error>(HasSubstr("no valid JSON: line 1, column 1")));
  EXPECT_THAT([&] { read_members("\"name\": \"\xff\xfe\""); },
              ThrowsMessage<Error>(HasSubstr("no valid JSON")));
  EXPECT_THAT([&] { read(write("t.json", "// nothing but a comment\n")); },
              ThrowsMessage<Error>(HasSubstr("no valid JSON: line 2")));
}

TEST_F(Tickets, WithACommaTooManySayWhatToTakeOut) {
  for (const std::string text : {"{\"frisket_ticket\": 1, \"trim\": \"A5\",}", "{\"trim\": [148, 210,]}"})
    EXPECT_THAT([&] { read(write("t.json", text)); },
                ThrowsMessage<Error>(HasSubstr("take out the comma before it")));
}

TEST_F(Tickets, ShowLongValuesCutShort) {
  EXPECT_THAT([&] { read_members("\"turn\": \"" + std::string(5000, 'y') + "\""); },
              ThrowsMessage<Error>(AllOf(HasSubstr("yyy…; expected one of"),
                                         testing::Property(&std::string::size, testing::Lt(400u)))));
}

TEST_F(Tickets, WithACommentThatNeverEndsAreNotRepeatedWhole) {
  EXPECT_THAT([&] { read_members("\"dpi\": 300 /* " + std::string(100'000, 'z')); },
              ThrowsMessage<Error>(AllOf(HasSubstr("line 1, column"), HasSubstr("missing closing '*/'"),
                                         testing::Property(&std::string::size, testing::Lt(300u)))));
}

TEST_F(Tickets, KeepSafeZonesOfOppositeEdgesApart) {
  EXPECT_NO_THROW(read_members(R"("safe": 104.9)"));
  EXPECT_THAT([&] { read_members(R"("safe": 105)"); },
              ThrowsMessage<Error>(
                  HasSubstr("\"safe\" is 105 mm at the right, half the trim width of 210 mm or more")));
  EXPECT_THAT(
      [] {
        from_flags({{"trim", "5x5mm"}});
      },
      ThrowsMessage<Error>(StartsWith("the default of \"safe\" is 3 mm at the top")));
}

TEST_F(Tickets, FindThePrinterBesideThemselves) {
  write("press.json", R"({"unit": "in", "bleed": 0.25, "resolution": {"screen": 133}})");
  const Job job = read_members(R"("printer": "press.json", "resolution": {"least": 200})");
  EXPECT_EQ(job.bleed, Edges::all(0.25_in));
  EXPECT_EQ(job.unit, Unit::millimetre);
  EXPECT_EQ(ppi_of(job, "resolution.wanted"), 266.0);
  EXPECT_EQ(ppi_of(job, "resolution.least"), 200.0);
  EXPECT_EQ(source_of(job, "resolution.wanted"), LimitSource::printer);
  EXPECT_EQ(source_of(job, "resolution.least"), LimitSource::ticket);
  write("press.json", R"({"bleed": -1})");
  EXPECT_THAT([&] { read_members(R"("printer": "press.json")"); },
              ThrowsMessage<Error>(HasSubstr("press.json: \"bleed\" is -1")));
}

}  // namespace
}  // namespace frisket
